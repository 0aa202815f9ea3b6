import { MATERIALS } from '../../catalogue/materials.ts'
import { TUBE_SIZES } from '../../catalogue/tubeSizes.ts'
import { capital } from '../../document/capital.ts'
import { editRun } from '../../document/edits.ts'
import { benderOf, dieOf, fittingsById, SAME_FIGURE_MM, toolingOf } from '../../document/lookUp.ts'
import type { Run, SkidDocument, Tube } from '../../document/types.ts'
import { notMeasured } from '../../document/unmeasured.ts'
import { insulationCutBack } from '../../skid/insulation.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Edit } from '../fields/applyEdit.ts'
import { LengthField } from '../fields/LengthField.tsx'
import { QuantityField } from '../fields/QuantityField.tsx'
import { countKind, lengthKind, lengthUnitWord } from '../fields/quantityKind.ts'
import { SelectField } from '../fields/SelectField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { useSession } from '../useStore.ts'
import { ExemptList } from './ExemptList.tsx'
import { InspectHead } from './InspectHead.tsx'

const refuse =
  (refused: string): Edit =>
  () => ({ refused })

/** A run's tag, tube, bender and what is added to it. */
export function InspectRun({ document, run }: { document: SkidDocument; run: Run }) {
  const unit = useSession(state => state.unit)
  const put =
    (patch: (r: Run) => Partial<Run>): Edit =>
    settled =>
      editRun(settled, run.id, r => ({ ...r, ...patch(r) }))
  const setTube = (patch: Partial<Tube>) => put(r => ({ tube: { ...r.tube, ...patch } }))
  const show = (mm: number) => `${lengthKind(unit).show(mm)} ${lengthUnitWord(unit)}`
  const fittings = fittingsById(document.fittings)
  const bender = benderOf(document, run)
  const radii = [
    ...new Set(bender?.tooling.filter(t => Math.abs(t.od - run.tube.od) <= SAME_FIGURE_MM).map(t => t.clr)),
  ]
  const tooling = bender && toolingOf(bender, run)
  const die = bender && dieOf(bender, run)
  const known = TUBE_SIZES.find(s => s.id === run.tube.catalogueId)
  const sizes = [...TUBE_SIZES].sort((a, b) =>
    a.system === b.system ? 0 : (a.system === 'mm') === (unit === 'mm') ? -1 : 1,
  )
  const atLeastZero = (name: string, to: number, patch: Partial<Run>): Edit =>
    to < 0 ? refuse(`${name} is 0 or more.`) : put(() => patch)
  return (
    <>
      <InspectHead title={run.tag} kind="run">
        <button
          type="button"
          className="small"
          onClick={() => sessionStore.getState().look({ kind: 'fitSelection' })}
        >
          Zoom to
        </button>
      </InspectHead>
      <div className="inspect-body">
        <TextField
          name="Tag"
          value={run.tag}
          label="Rename the run"
          edit={text => {
            const tag = text.trim()
            if (tag === '') return refuse('A run needs a tag.')
            if (document.runs.some(r => r.id !== run.id && r.tag === tag))
              return refuse(`Another run is called ${tag}: a tag is used once.`)
            return put(() => ({ tag }))
          }}
        />
        <TextField
          name="Service"
          value={run.service}
          label="Change the service"
          edit={service => put(() => ({ service: service.trim() }))}
        />
        <h3>Tube</h3>
        <SelectField
          name="Size"
          value={known?.id ?? ''}
          label={`Change the tube of ${run.tag}`}
          choices={[
            { value: '', text: 'Custom OD and wall' },
            ...sizes.map(s => ({ value: s.id, text: s.name })),
          ]}
          edit={id => {
            const size = TUBE_SIZES.find(s => s.id === id)
            return setTube(
              size ? { catalogueId: size.id, od: size.od, wall: size.wall } : { catalogueId: null },
            )
          }}
        />
        <LengthField
          name="OD"
          value={run.tube.od}
          label="Change the OD"
          edit={od =>
            od > 2 * run.tube.wall
              ? setTube({ od, catalogueId: null })
              : refuse('An OD is more than twice the wall.')
          }
        />
        <LengthField
          name="Wall"
          value={run.tube.wall}
          label="Change the wall"
          edit={wall =>
            wall > 0 && 2 * wall < run.tube.od
              ? setTube({ wall, catalogueId: null })
              : refuse('A wall is above 0 and under half the OD.')
          }
        />
        <TextField
          name="Material"
          value={run.tube.material}
          label="Change the material"
          suggestions={MATERIALS.map(m => m.id)}
          edit={material =>
            material.trim() === ''
              ? refuse('Say what the tube is made of.')
              : setTube({ material: material.trim() })
          }
        />
        <h3>Bending</h3>
        <SelectField
          name="Bender"
          value={run.bender ?? ''}
          label="Choose the bender"
          choices={[
            { value: '', text: 'none chosen' },
            ...document.benders.map(b => ({ value: b.id, text: b.name })),
            ...(run.bender !== null && !bender
              ? [{ value: run.bender, text: `missing: ${run.bender}` }]
              : []),
          ]}
          edit={id => put(() => ({ bender: id === '' ? null : id }))}
        />
        {radii.length > 0 && (
          <SelectField
            name="Die"
            value={die ? String(die.clr) : ''}
            label="Choose the die"
            choices={[
              ...(die ? [] : [{ value: '', text: `none for CLR ${show(run.clr)}` }]),
              ...radii.map(clr => ({ value: String(clr), text: `CLR ${show(clr)}` })),
            ]}
            edit={clr => (clr === '' ? refuse('Choose one of the dies.') : put(() => ({ clr: Number(clr) })))}
          />
        )}
        <LengthField
          name="CLR"
          value={run.clr}
          hint={
            bender === null
              ? 'No bender chosen: its checks are not made.'
              : tooling
                ? undefined
                : die
                  ? `${capital(notMeasured(bender, die))}.`
                  : `${bender.name} has no tooling for this OD and CLR.`
          }
          label="Change the CLR"
          edit={clr => (clr > 0 ? put(() => ({ clr })) : refuse('A CLR is above 0.'))}
        />
        <h3>Making</h3>
        <LengthField
          name="Trim allowance"
          value={run.trimAllowance}
          label="Change the trim allowance"
          edit={to => atLeastZero('A trim allowance', to, { trimAllowance: to })}
        />
        <LengthField
          name="Insulation"
          value={run.insulation}
          label="Change the insulation"
          edit={to => atLeastZero('Insulation', to, { insulation: to })}
        />
        {run.insulation > 0 && (
          <SelectField
            name="Insulation begins"
            value={run.insulationCutBack === undefined ? 'nut' : 'own'}
            label="Change where the insulation begins"
            choices={[
              { value: 'nut', text: 'past the nut' },
              { value: 'own', text: 'own distance' },
            ]}
            edit={to =>
              to === 'own'
                ? put(() => ({ insulationCutBack: Math.max(...insulationCutBack(run, fittings)) }))
                : settled => editRun(settled, run.id, ({ insulationCutBack: _, ...rest }) => rest)
            }
          />
        )}
        {run.insulation > 0 && run.insulationCutBack !== undefined && (
          <LengthField
            name="Cut back"
            value={run.insulationCutBack}
            hint="From the port’s face, or the free end, at both ends"
            label="Change how far the insulation is cut back"
            edit={to => atLeastZero('A cut-back', to, { insulationCutBack: to })}
          />
        )}
        <QuantityField
          name="Quantity"
          value={run.quantity}
          kind={countKind}
          label="Change the quantity"
          edit={quantity => put(() => ({ quantity }))}
        />
        <ExemptList of={e => e.run === run.id} />
      </div>
    </>
  )
}
