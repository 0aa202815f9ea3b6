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
  const sum = [
    `${show(route.developedLength)} developed`,
    ...parts.map(p => `${show(p.length)} ${p.name}`),
  ].join(' + ')
  const stretch = solved.stretch.reduce((all, s) => all + s, 0)
  const made = stretch === 0 ? sum : `${sum} − ${show(stretch)} stretch`
  return (
    <footer className="totals">
      <span className="cut">
        Cut <b>{solved.cutLength === null ? '—' : show(solved.cutLength)}</b> {lengthUnitWord(unit)}
      </span>
      <span className="quiet cut-parts" title={`${made}, all ${lengthUnitWord(unit)}`}>
        = {made}
      </span>
    </footer>
  )
}
