/** Bad input: its messages are all that the user needs, one a line. */
export class BadInput extends Error {
  readonly messages: readonly string[]
  constructor(...messages: readonly string[]) {
    super(messages.join('\n'))
    this.messages = messages
  }
}

/** All that is wrong with a file. */
export const badFile = (file: string, errors: readonly { readonly message: string }[]): BadInput =>
  new BadInput(...errors.map(e => `${file}: ${e.message}`))
