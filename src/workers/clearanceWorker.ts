import { createClearanceJob } from '../skid/clearanceJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering(createClearanceJob())
