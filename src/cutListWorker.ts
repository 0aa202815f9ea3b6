import { type CutListRequest, doCutListJob } from './outputs/cutListJob.ts'

addEventListener('message', (event: MessageEvent<CutListRequest>) => {
  doCutListJob(event.data, answer => postMessage(answer))
})
