import { main } from './main.ts'
import { NODE_IO } from './nodeIo.ts'

process.exitCode = await main(process.argv.slice(2), NODE_IO)
