import type { ComponentChildren } from 'preact'

/** A part wider than the screen; it can be scrolled by keyboard too (WCAG 2.1.1), so it takes the focus. */
export const ScrollBox = ({ label, children }: { readonly label: string; readonly children: ComponentChildren }) => (
  <section class="scroll" tabIndex={0} aria-label={label}>
    {children}
  </section>
)
