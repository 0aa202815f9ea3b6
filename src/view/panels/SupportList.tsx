import { parseLength } from '../../document/quantity.ts'
import type { SkidDocument } from '../../document/types.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { TextField } from '../fields/TextField.tsx'
import { useSession } from '../useStore.ts'
import { PartList } from './PartList.tsx'

/** The longest stretch wanted between supports, and the supports by name: the way to them without the 3D view. */
export function SupportList({ document }: { document: SkidDocument }) {
  const unit = useSession(state => state.unit)
  const { select, setHover } = sessionStore.getState()
  const span = document.supportSpan
  const tagOf = (id: string) => document.runs.find(r => r.id === id)?.tag ?? id
  return (
    <>
      <h3>Supports</h3>
      <TextField
        name={`Maximum span, ${lengthUnitWord(unit)}`}
        value={span === null ? '' : lengthKind(unit).exact(span)}
        label="Change the maximum span between supports"
        edit={text => settled => {
          if (text.trim() === '') return { ...settled, supportSpan: null }
          const read = parseLength(text, unit)
          if (!read.ok) return { refused: read.reason }
          return read.mm > 0 ? { ...settled, supportSpan: read.mm } : { refused: 'A span is above 0.' }
        }}
      />
      <p className="quiet">
        {span === null
          ? 'No maximum span is set, so spans are not checked. See the governing code.'
          : 'Measured along the tube, from support to support or end. See the governing code.'}
      </p>
      {document.supports.length === 0 ? (
        <p className="quiet">None yet: select a straight and add one.</p>
      ) : (
        <PartList name="Supports">
          {document.supports.map(s => (
            <li key={s.id}>
              <button
                type="button"
                onClick={() => select({ kind: 'support', support: s.id })}
                onPointerEnter={() => setHover({ kind: 'support', support: s.id })}
                onPointerLeave={() => setHover(null)}
              >
                {s.name} <span className="quiet">{`${s.type}, ${tagOf(s.run)}`}</span>
              </button>
            </li>
          ))}
        </PartList>
      )}
    </>
  )
}
