import { type ClearanceMessage, createClearanceJob } from './skid/clearanceJob.ts'

const job = createClearanceJob(reply => postMessage(reply))

addEventListener('message', (event: MessageEvent<ClearanceMessage>) => {
  void job.take(event.data)
})
