/** Why an output cannot be made: names the place, what was found there and what is wanted. */
export class OutputError extends Error {
  override readonly name = 'OutputError'
  constructor(
    readonly place: string,
    readonly found: string,
    readonly wanted: string,
  ) {
    super(`${place}: found ${found}, wanted ${wanted}`)
  }
}
