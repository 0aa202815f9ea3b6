/** Bad input: its message is all that the user needs. */
export class BadInput extends Error {}

/** Errors of a file, one a line. */
export const listed = (file: string, errors: readonly { readonly message: string }[]) =>
  errors.map(e => `${file}: ${e.message}`).join('\ndogleg: ')
