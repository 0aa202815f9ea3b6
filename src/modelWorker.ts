import stepKernelUrl from 'occt-import-js/dist/occt-import-js.wasm?url'
import { createModelJob, type ModelRequest } from './skid/models/modelJob.ts'

const take = createModelJob((answer, transfer) => postMessage(answer, { transfer }), {
  stepKernel: async () => {
    const answer = await fetch(stepKernelUrl)
    if (!answer.ok) throw new Error(`the STEP reader: found ${answer.status}; wanted its file of the app`)
    return new Uint8Array(await answer.arrayBuffer())
  },
})

addEventListener('message', (event: MessageEvent<ModelRequest>) => {
  void take(event.data)
})
