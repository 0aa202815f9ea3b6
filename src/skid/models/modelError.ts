/** A model file that cannot be taken in; its message names the place, what was found and what was wanted. */
export class ModelError extends Error {
  override readonly name = 'ModelError'
}
