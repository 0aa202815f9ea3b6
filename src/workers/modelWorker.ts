import stepKernelUrl from 'occt-import-js/dist/occt-import-js.wasm?url'
import { createModelJob } from '../skid/models/modelJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering(
  createModelJob({
    stepKernel: async () => {
      const answer = await fetch(stepKernelUrl)
      if (!answer.ok) throw new Error(`the STEP reader: found ${answer.status}; wanted its file of the app`)
      return new Uint8Array(await answer.arrayBuffer())
    },
  }),
)
