import { angleKind, lengthKind } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'
import type { PaperSettings } from './paperSettings.ts'
import { SettingField } from './SettingField.tsx'

const FIELDS = [
  ['tolLength', 'Straights ±', 'mm'],
  ['tolAngle', 'Bend angles ±', 'deg'],
  ['tolTurn', 'Rotations ±', 'deg'],
  ['tolEnds', 'End to end ±', 'mm'],
] as const

interface Props {
  readonly settings: PaperSettings
  change(patch: Partial<PaperSettings>): void
}

/** The shop's own tolerances: kept in this browser, printed on every sheet. */
export function ToleranceFields({ settings, change }: Props) {
  const unit = useSession(state => state.unit)
  // 0.4 mm to the nearest 1/64 in would be shown as another tolerance.
  const length = lengthKind(unit === 'fraction' ? 'in' : unit)
  return (
    <fieldset className="tolerances">
      <legend>Tolerances</legend>
      {FIELDS.map(([key, name, kind]) => (
        <SettingField
          key={key}
          name={name}
          kind={kind === 'mm' ? length : angleKind}
          value={settings[key] === '' ? null : Number(settings[key])}
          empty="not given"
          refuse={value => (value >= 0 ? null : '0 or more.')}
          onChange={value => change({ [key]: value === null ? '' : String(value) })}
        />
      ))}
    </fieldset>
  )
}
