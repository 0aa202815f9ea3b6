import {
  type CutListAnswer,
  type CutListRequest,
  type CutProgress,
  doCutListJob,
} from '../outputs/cutListJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering<CutListRequest, CutListAnswer, CutProgress, never>({
  answer: (request, { progress }) => doCutListJob(request, progress),
})
