/** Keeps a script from ending, or escaping, the element it is embedded in; only string and regular expression literals can hold these. */
export const embeddable = (script: string): string => script.replace(/<\/(script)/gi, '<\\/$1').replace(/<!--/g, '<\\!--')
