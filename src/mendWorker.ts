import { answerMend, type MendRequest } from './checks/mend/mendJob.ts'

addEventListener('message', (event: MessageEvent<MendRequest>) => {
  answerMend(event.data, answer => postMessage(answer))
})
