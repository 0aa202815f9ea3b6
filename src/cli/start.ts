import { main } from './main.ts'
import { NODE_IO } from './nodeIo.ts'

// Whoever reads the output may stop reading, as `head` does: that is no fault.
for (const stream of [process.stdout, process.stderr])
  stream.on('error', error => {
    if ('code' in error && error.code === 'EPIPE') process.exit()
    throw error
  })

process.exitCode = await main(process.argv.slice(2), NODE_IO)
