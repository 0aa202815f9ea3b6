import { useSession } from '../useStore.ts'
import { QuantityField, type QuantityFieldProps } from './QuantityField.tsx'
import { lengthKind } from './quantityKind.ts'

/** A length, stored in mm, shown and typed in the session's unit. */
export function LengthField(props: Omit<QuantityFieldProps, 'kind'>) {
  const unit = useSession(state => state.unit)
  return <QuantityField {...props} kind={lengthKind(unit)} />
}
