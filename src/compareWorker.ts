import { answerVersion, type VersionRequest } from './checks/versionFindings.ts'

addEventListener('message', (event: MessageEvent<VersionRequest>) => {
  postMessage(answerVersion(event.data))
})
