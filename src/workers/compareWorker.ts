import { createVersionJob } from '../checks/versionFindings.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering(createVersionJob())
