import { type BenchAnswer, type BenchProgress, type BenchRequest, doBenchJob } from '../bench/benchJob.ts'
import { startAnswering } from './answerRequests.ts'

startAnswering<BenchRequest, BenchAnswer, BenchProgress, never>({
  answer: (request, { progress }) => doBenchJob(request, progress),
})
