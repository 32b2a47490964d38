/** Version of this tool, as in package.json; stands in every manifest. */
export const toolVersion = '0.1.0'
