import { answerMend, type MendRequest } from '../checks/mend/mendJob.ts'
import type { Mends } from '../checks/mend/mendTypes.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering<MendRequest, Mends, number, never>({
  answer: (request, { progress }) => answerMend(request, progress),
})
