import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { TOP } from './buildApp.ts'
import { ServeError } from './serveApp.ts'

export interface StartOptions {
  /** Null when none is named. */
  readonly port: number | null
  readonly dist: string
  readonly address: string | null
}

/** @throws ServeError in words for an option that is not known or has no good value. */
export function startOptions(argv: readonly string[]): StartOptions {
  let given: { port?: string; dist?: string; address?: string }
  try {
    given = parseArgs({
      args: [...argv],
      options: { port: { type: 'string' }, dist: { type: 'string' }, address: { type: 'string' } },
    }).values
  } catch (error) {
    throw new ServeError(
      `${error instanceof Error ? error.message : String(error)}; wanted --port NUMBER, --dist FOLDER or --address ADDRESS`,
    )
  }
  const port = given.port === undefined ? null : Number(given.port)
  if (port !== null && !(Number.isInteger(port) && port >= 0 && port <= 65535))
    throw new ServeError(`--port: found ${given.port}; wanted a whole number from 0 to 65535`)
  return { port, dist: resolve(given.dist ?? resolve(TOP, 'dist')), address: given.address ?? null }
}

/** Runs what `npm start` and `npm run shop` do; what goes wrong is one line and exit code 2. */
export async function runStart(start: (options: StartOptions) => Promise<void>): Promise<void> {
  try {
    await start(startOptions(process.argv.slice(2)))
  } catch (error) {
    if (!(error instanceof ServeError)) throw error
    console.error(error.message)
    process.exitCode = 2
  }
}
