import type { Vec3 } from '../../geometry/vec3.ts'
import { useSession } from '../useStore.ts'
import type { Edit } from './applyEdit.ts'
import { QuantityField } from './QuantityField.tsx'
import { angleKind, lengthKind } from './quantityKind.ts'

interface Props {
  readonly name: string
  readonly value: Vec3
  /** 'length' mm, 'angle' degrees. */
  readonly of: 'length' | 'angle'
  readonly parts?: readonly [string, string, string]
  readonly label: string
  readonly edit: (value: Vec3) => Edit
  readonly locked?: string | undefined
}

/** Three figures in a row: x, y, z. Each is applied by itself. */
export function VectorField({ name, value, of, parts = ['X', 'Y', 'Z'], label, edit, locked }: Props) {
  const unit = useSession(state => state.unit)
  const kind = of === 'length' ? lengthKind(unit) : angleKind
  return (
    <fieldset className="vector">
      <legend>
        {name}
        {kind.unitWord && <span className="quiet"> {kind.unitWord}</span>}
      </legend>
      {parts.map((part, i) => (
        <QuantityField
          key={part}
          name={part}
          value={value[i]!}
          kind={{ ...kind, unitWord: '' }}
          label={label}
          locked={locked}
          edit={to => edit([i === 0 ? to : value[0], i === 1 ? to : value[1], i === 2 ? to : value[2]])}
        />
      ))}
    </fieldset>
  )
}
