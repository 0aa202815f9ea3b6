import { QuantityField, type QuantityFieldProps } from './QuantityField.tsx'
import { angleKind } from './quantityKind.ts'

/** An angle in degrees. */
export function AngleField(props: Omit<QuantityFieldProps, 'kind'>) {
  return <QuantityField {...props} kind={angleKind} />
}
