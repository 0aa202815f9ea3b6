/** Bad input at the bench: names the place, what was found there and what is wanted. */
export class BenchError extends Error {
  override readonly name = 'BenchError'
  constructor(
    readonly place: string,
    readonly found: string,
    readonly wanted: string,
  ) {
    super(`${place}: found ${found}, wanted ${wanted}`)
  }
}
