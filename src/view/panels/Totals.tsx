import type { Run } from '../../document/types.ts'
import type { SolvedRoute, SolvedRun } from '../../solve/types.ts'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'

/** Developed and cut length, the latter with what it is made of. */
export function Totals({ run, solved, route }: { run: Run; solved: SolvedRun; route: SolvedRoute }) {
  const unit = useSession(state => state.unit)
  const show = lengthKind(unit).show
  const parts = [
    { name: 'in at A', length: solved.insertionA },
    { name: 'in at B', length: solved.insertionB },
    { name: 'trim', length: run.trimAllowance },
  ].filter(p => p.length !== 0)
  return (
    <footer className="totals">
      <span>
        Developed <b>{show(route.developedLength)}</b>
      </span>
      {parts.map(p => (
        <span key={p.name} className="quiet">
          + {p.name} {show(p.length)}
        </span>
      ))}
      <span className="cut">
        Cut <b>{solved.cutLength === null ? '—' : show(solved.cutLength)}</b> {lengthUnitWord(unit)}
      </span>
    </footer>
  )
}
