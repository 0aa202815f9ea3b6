import { answerHousing, type HousingRequest } from './bench/housingJob.ts'

addEventListener('message', (event: MessageEvent<HousingRequest>) => {
  postMessage(answerHousing(event.data))
})
