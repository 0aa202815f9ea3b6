import { answerHousing } from '../bender/housingJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering({ answer: answerHousing })
