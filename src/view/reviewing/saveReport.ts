import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { solvedRuns } from '../../store/derived.ts'
import { download, fileNameFor } from '../../store/files.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { paperSettings } from '../paper/paperSettings.ts'

/** Hands the review report to the browser's downloads, on the paper chosen last. */
export async function saveReport(
  document: SkidDocument,
  findings: readonly Finding[],
  complete: boolean,
): Promise<void> {
  const [{ reviewPdf }, { OutputError }, { reportOptions }] = await Promise.all([
    import('../../outputs/review/reviewSheets.ts'),
    import('../../outputs/outputError.ts'),
    import('./reportJob.ts'),
  ])
  const { unit, say } = sessionStore.getState()
  const { paper } = paperSettings()
  const pdf = await reviewPdf(document, solvedRuns(document), {
    ...reportOptions(document, findings, complete, unit),
    paper,
  }).catch(error => {
    if (!(error instanceof OutputError)) throw error
    say(`Review report: ${error.message}`)
    return null
  })
  if (!pdf) return
  download(fileNameFor(document.name, '-review.pdf'), new Uint8Array(pdf), 'application/pdf')
  say(
    complete
      ? 'Review report: handed to the browser’s downloads.'
      : 'Review report: handed to the browser’s downloads. Its checks were not finished, and it says so.',
  )
}
