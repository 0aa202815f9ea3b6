import { answerClearance, type ClearanceRequest } from './skid/clearanceJob.ts'

addEventListener('message', (event: MessageEvent<ClearanceRequest>) => {
  postMessage(answerClearance(event.data))
})
