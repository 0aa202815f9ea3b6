import { type MaterialLine, materialQuantity } from '../../outputs/billOfMaterial.ts'

const KINDS: Readonly<Record<MaterialLine['kind'], string>> = {
  tube: 'Tube',
  fitting: 'Port',
  support: 'Support',
  insulation: 'Insulation',
  'unused fitting': 'Unused port',
}

/** What these runs take, to order or to fetch. */
export function MaterialTable({ material }: { material: readonly MaterialLine[] }) {
  return (
    <table className="materialTable">
      <caption>Bill of material</caption>
      <thead>
        <tr>
          <th scope="col">Kind</th>
          <th scope="col">Item</th>
          <th scope="col" className="number">
            Quantity
          </th>
          <th scope="col">Unit</th>
          <th scope="col">Where</th>
        </tr>
      </thead>
      <tbody>
        {material.map(m => (
          <tr key={`${m.kind} ${m.item}`} className={m.kind === 'unused fitting' ? 'unused' : undefined}>
            <td>{KINDS[m.kind]}</td>
            <th scope="row">{m.item}</th>
            <td className="number">{materialQuantity(m)}</td>
            <td>{m.unit}</td>
            <td className="quiet">{m.note}</td>
          </tr>
        ))}
      </tbody>
    </table>
  )
}
