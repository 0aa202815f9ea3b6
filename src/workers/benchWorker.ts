import { type BenchAnswer, type BenchProgress, type BenchRequest, doBenchJob } from '../bender/benchJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering<BenchRequest, BenchAnswer, BenchProgress, never>({
  answer: (request, { progress }) => doBenchJob(request, progress),
})
