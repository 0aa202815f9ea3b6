import { type FormEvent, useState } from 'react'
import type { SkidDocument } from '../../document/types.ts'
import { runCode } from '../../outputs/runCode.ts'
import { solvedRuns } from '../../store/derived.ts'
import { sessionStore } from '../../store/sessionStore.ts'

interface Props {
  readonly document: SkidDocument
  readonly runId: string
}

/** The code printed on a sheet opens its run, or says that the run has changed since the sheet was printed. */
export function SheetCode({ document, runId }: Props) {
  const [typed, setTyped] = useState('')
  const [answer, setAnswer] = useState('')
  const codes = solvedRuns(document).map((solved, i) => ({
    run: document.runs[i]!,
    code: runCode(document.runs[i]!, solved),
  }))
  const own = codes.find(c => c.run.id === runId)?.code
  const look = (event: FormEvent) => {
    event.preventDefault()
    const wanted = plain(typed)
    const found = codes.find(c => plain(c.code) === wanted)
    if (!found)
      setAnswer(
        `No run of this skid has the code “${typed.trim()}”: it was changed since the sheet was printed, or the sheet is of another skid. Do not bend by that sheet.`,
      )
    else {
      setAnswer(`${found.run.tag}: the sheet and the screen say the same.`)
      sessionStore.getState().select({ kind: 'run', run: found.run.id })
      sessionStore.getState().set({ runInHand: found.run.id })
    }
  }
  return (
    <form className="sheet-code" onSubmit={look}>
      <label>
        code on the sheet
        <input
          value={typed}
          placeholder={own}
          autoComplete="off"
          spellCheck={false}
          onChange={event => setTyped(event.currentTarget.value)}
        />
      </label>
      <button type="submit" disabled={plain(typed) === ''}>
        Compare
      </button>
      <output>{answer}</output>
    </form>
  )
}

const plain = (code: string) => code.toUpperCase().replace(/[^0-9A-Z]/g, '')
