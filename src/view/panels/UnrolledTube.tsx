import { useLayoutEffect, useRef, useState } from 'react'
import { tubeSizeText } from '../../document/tubeSizeText.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { SolvedRoute } from '../../solve/types.ts'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { MiddleCut } from '../MiddleCut.tsx'
import { SentenceText } from '../SentenceText.tsx'
import { useSession } from '../useStore.ts'
import { SeverityMark } from './SeverityMark.tsx'
import { UnrolledDrawing } from './UnrolledDrawing.tsx'
import { type RunInHand, useRunInHandLive } from './useRunInHand.ts'
import './panels.css'
import './unrolled.css'

/** Above this a bend is narrower than a pencil line. */
const MOST_BENDS = 300

/** The run in hand laid out straight, to scale, as the stock on the bench; and an editor of it. */
export function UnrolledTube() {
  const inHand = useRunInHandLive()
  const box = useRef<HTMLDivElement>(null)
  const [width, setWidth] = useState(0)
  useLayoutEffect(() => {
    const element = box.current
    if (!element) return
    const measure = () => setWidth(element.clientWidth)
    measure()
    const observer = new ResizeObserver(measure)
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  return (
    <section className="unrolled" aria-label="Unrolled tube">
      {inHand && <Head {...inHand} route={inHand.solved.route} />}
      <div ref={box} className="unrolled-box">
        {!inHand ? (
          <p className="empty">No run yet: the active run’s tube is shown here, unrolled and to scale.</p>
        ) : inHand.solved.route === null ? (
          <p role="status" className="empty">
            <SeverityMark of="error" /> Nothing to unroll:{' '}
            <SentenceText sentence={inHand.solved.problem?.sentence} />.
          </p>
        ) : inHand.solved.route.bends.length > MOST_BENDS ? (
          <p role="status" className="empty">
            {inHand.solved.route.bends.length} bends are too many for this width: use the tables.
          </p>
        ) : (
          width > 0 && (
            <UnrolledDrawing key={inHand.run.id} {...inHand} route={inHand.solved.route} width={width} />
          )
        )}
      </div>
    </section>
  )
}

function Head({ run, solved, route }: RunInHand & { route: SolvedRoute | null }) {
  const unit = useSession(state => state.unit)
  const bends = route?.bends.length ?? 0
  return (
    <header className="unrolled-head">
      <h2>
        <MiddleCut text={visibleText(run.tag)} />
      </h2>
      <span className="quiet">
        {[tubeSizeText(run.tube, unit), run.service, route && `${bends} ${bends === 1 ? 'bend' : 'bends'}`]
          .filter(Boolean)
          .join(' · ')}
      </span>
      {route && (
        <span className="unrolled-hint">drag a bend’s edge, or click a straight, bend or clock to type</span>
      )}
      {solved.cutLength !== null && (
        <span className="unrolled-cut">
          Cut <b>{lengthKind(unit).show(solved.cutLength)}</b> {lengthUnitWord(unit)}
        </span>
      )}
    </header>
  )
}
