import { createVersionJob, type VersionMessage } from './checks/versionFindings.ts'

const take = createVersionJob()

addEventListener('message', (event: MessageEvent<VersionMessage>) => {
  const answer = take(event.data)
  if (answer) postMessage(answer)
})
