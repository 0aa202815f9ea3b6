import { buildApp } from './buildApp.ts'
import { runStart } from './options.ts'
import { type Served, ServeError, serveApp } from './serveApp.ts'

const PORT = 5190
/** Ports that are tried after the usual one when none is named. */
const MORE = 20

/** `npm start`: builds the app and serves it to this machine alone. */
await runStart(async ({ port, dist }) => {
  buildApp(dist)
  const served = port === null ? await atFreePort(dist) : await serveApp({ dist, host: 'localhost', port })
  console.log(`Dogleg: http://localhost:${served.port}/`)
  console.log('For a tablet in the same network: npm run shop')
})

async function atFreePort(dist: string): Promise<Served> {
  for (let port = PORT; ; port++)
    try {
      return await serveApp({ dist, host: 'localhost', port })
    } catch (error) {
      if (!(error instanceof ServeError) || port === PORT + MORE) throw error
    }
}
