import { answerHousing } from '../bench/housingJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering({ answer: answerHousing })
