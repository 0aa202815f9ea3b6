import { useEffect, useMemo, useState } from 'react'
import { formatLength, type LengthUnit } from '../../document/quantity.ts'
import type { Run, SkidDocument } from '../../document/types.ts'
import { drawView } from '../../outputs/drawView.ts'
import { ISOMETRIC } from '../../outputs/views.ts'
import { writeSvg } from '../../outputs/writeSvg.ts'
import { overruns } from '../../solve/overruns.ts'
import { solveRun } from '../../solve/solveRun.ts'
import { SentenceText } from '../SentenceText.tsx'

const WIDTH = 130
const HEIGHT = 78

interface Props {
  readonly made: { readonly document: SkidDocument; readonly runs: readonly Run[] } | null
  readonly unit: LengthUnit
  readonly says: readonly string[]
}

/** What the table becomes: a drawing of one run, its length and bends, and what else will change. */
export function RoutePicture({ made, unit, says }: Props) {
  const [at, setAt] = useState(0)
  const run = made ? (made.runs[at] ?? made.runs[0]) : undefined
  const solved = useMemo(() => (made && run ? solveRun(made.document, run) : null), [made, run])
  const picture = useMemo(() => {
    if (!solved?.route || !run) return null
    const box = { x: 2, y: 2, w: WIDTH - 4, h: HEIGHT - 4 }
    const length = (mm: number) => formatLength(mm, unit, unit === 'mm' ? { digits: 1 } : { digits: 3 })
    const drawn = drawView(solved.route, ISOMETRIC, box, {
      od: run.tube.od,
      length,
      dimensions: [],
      legs: true,
    })
    const svg = writeSvg({ width: WIDTH, height: HEIGHT, items: drawn.items }, run.tag)
    return URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  }, [solved, run, unit])
  useEffect(() => () => void (picture && URL.revokeObjectURL(picture)), [picture])
  if (!made || !run || !solved) return null
  const { route } = solved
  return (
    <section className="routePicture" aria-label="What the table becomes">
      {picture && <img src={picture} alt={`${run.tag}, isometric`} />}
      <div>
        {made.runs.length > 1 ? (
          <label className="line">
            Shown
            <select value={at} onChange={event => setAt(Number(event.currentTarget.value))}>
              {made.runs.map((r, i) => (
                <option key={r.id} value={i}>
                  {r.tag}
                </option>
              ))}
            </select>
          </label>
        ) : (
          <strong>{run.tag}</strong>
        )}
        {route ? (
          <p>
            {route.bends.length === 1 ? '1 bend' : `${route.bends.length} bends`}, developed length{' '}
            {formatLength(route.developedLength, unit, { withUnit: true })}
            {overruns(route).length > 0 && '. A straight is shorter than its bends need'}.
          </p>
        ) : (
          <p className="refusal">
            It has no solution yet: <SentenceText sentence={solved.problem?.sentence} />
          </p>
        )}
        {says.length > 0 && (
          <ul>
            {says.map(line => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        )}
      </div>
    </section>
  )
}
