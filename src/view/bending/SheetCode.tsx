import { type FormEvent, useState } from 'react'
import { runOf } from '../../document/lookUp.ts'
import type { SkidDocument } from '../../document/types.ts'
import { benchRun } from '../../outputs/benchLayout.ts'
import { plainCode, runCode } from '../../outputs/runCode.ts'
import type { OrderedBend } from '../../solve/bendOrder.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { openSheet } from './openSheet.ts'

interface Props {
  readonly document: SkidDocument
  readonly runId: string
  /** The order of bends in use: part of the code. */
  readonly order: readonly OrderedBend[]
}

/** The code printed on a sheet opens its run, or says that the run has changed since the sheet was printed. */
export function SheetCode({ document, runId, order }: Props) {
  const [typed, setTyped] = useState('')
  const [answer, setAnswer] = useState('')
  const solved = solvedRunOf(document, runId)
  const own =
    solved?.route && runOf(document, runId) ? runCode(benchRun(document, solved, order), solved) : undefined
  const look = (event: FormEvent) => {
    event.preventDefault()
    setAnswer('Looking…')
    void openSheet(typed).then(setAnswer)
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
      <button type="submit" disabled={plainCode(typed) === ''}>
        Find its run
      </button>
      <output>{answer}</output>
    </form>
  )
}
