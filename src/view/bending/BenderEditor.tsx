import { askAboutSpringback } from '../../bender/askAboutSpringback.ts'
import { askAboutFollowerGap, askAboutTooling, type ToolingFigure } from '../../bender/askAboutTooling.ts'
import { MARGIN_MM } from '../../bender/housing.ts'
import { KINDS } from '../../bender/kinds/benderKinds.ts'
import { MATERIALS } from '../../catalogue/materials.ts'
import { BENDER_KINDS } from '../../document/benderKinds.ts'
import { capital } from '../../document/capital.ts'
import { freshId } from '../../document/edits.ts'
import { benderOf } from '../../document/lookUp.ts'
import { formatAngle } from '../../document/quantity.ts'
import { inMm, inUnit } from '../../document/sentence.ts'
import type { Run, SkidDocument, Springback, UnmeasuredFigure } from '../../document/types.ts'
import { isMeasured, withMeasured } from '../../document/unmeasured.ts'
import { AngleField } from '../fields/AngleField.tsx'
import { applyEdit } from '../fields/applyEdit.ts'
import { LengthField } from '../fields/LengthField.tsx'
import { QuantityField } from '../fields/QuantityField.tsx'
import { plainKind } from '../fields/quantityKind.ts'
import { SelectField } from '../fields/SelectField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { useSession } from '../useStore.ts'
import { BenderSketch } from './BenderSketch.tsx'
import { BenderSolidsEditor } from './BenderSolidsEditor.tsx'
import { editBender, editRow, freshTooling, wanted } from './benderEdits.ts'
import { unitWord } from './figures.ts'

/** Wanted angles at which a springback record is held against what a tube can do, degrees. */
const ASKED_AT_DEG = [15, 45, 90, 135, 180]

type Measurable = 'od' | 'clr' | UnmeasuredFigure

/** The run's bender as a record: hand, kind, tooling per OD, springback per material, solids. Every change is one undo. */
export function BenderEditor({ document, run }: { document: SkidDocument; run: Run }) {
  const unit = useSession(state => state.unit)
  const bender = benderOf(document, run)
  if (!bender) return <p className="bending-blocked">Choose a bender above, or “Custom bender…”.</p>
  const { id } = bender
  const users = document.runs.filter(r => r.bender === id).map(r => r.tag)
  const word = unitWord(unit)
  const askSpringback = (record: Springback) => {
    const doubt = askAboutSpringback(record, ASKED_AT_DEG, null)
    return doubt && `${capital(inMm(doubt.sentence))}. Use or correct?`
  }
  const change = (label: string, edit: Parameters<typeof editBender>[1]) =>
    applyEdit(label, editBender(id, edit))
  return (
    <section className="bending-editor" aria-label="Bender">
      {bender.tooling.some(t => !isMeasured(t)) && (
        <p className="bending-warn">
          Measure the figures marked “not measured” on the machine. Until then Dogleg calculates nothing with
          that tooling and skips its checks. The reference offset comes from a test bend.
        </p>
      )}
      {bender.catalogueId !== null && (
        <p className="bending-warn">
          Invented for the demo: measure your own bender and replace every figure.
        </p>
      )}
      <p className="quiet">Bends {users.join(', ')}.</p>
      <div className="editorTop">
        <TextField
          name="Name"
          value={bender.name}
          label="Name the bender"
          edit={name =>
            editBender(
              id,
              b => wanted(name.trim() !== '', 'name', 'at least one letter') ?? { ...b, name: name.trim() },
            )
          }
        />
        <SelectField
          name="Hand"
          value={bender.hand}
          choices={[
            { value: 'left', text: 'left: die on your left' },
            { value: 'right', text: 'right: die on your right' },
          ]}
          label="Hand of the bender"
          edit={hand => editBender(id, b => ({ ...b, hand: hand === 'right' ? 'right' : 'left' }))}
        />
        <SelectField
          name="Kind"
          value={bender.kind}
          choices={BENDER_KINDS.map(kind => ({ value: kind, text: KINDS[kind].words }))}
          label="Kind of bender"
          edit={kind => editBender(id, b => ({ ...b, kind: BENDER_KINDS.find(k => k === kind) ?? b.kind }))}
        />
        <SelectField
          name="After each bend"
          value={bender.tubeOutFirst ? 'tube' : 'arm'}
          choices={[
            { value: 'arm', text: 'arm back first' },
            { value: 'tube', text: 'tube out first' },
          ]}
          label="What comes first after each bend"
          edit={first =>
            editBender(id, ({ tubeOutFirst: _, ...b }) =>
              first === 'tube' ? { ...b, tubeOutFirst: true } : b,
            )
          }
        />
        <LengthField
          name="Follower gap"
          value={bender.followerGap ?? 0}
          unknown={bender.followerGap === undefined ? 'not on record' : undefined}
          hint="Between follower and clamp, if the bender’s manual gives one."
          label="Gap between follower and clamp"
          ask={gap => {
            const doubt = askAboutFollowerGap(run.tube.od, gap)
            return doubt && `${capital(inUnit(doubt, unit))}. Use or correct?`
          }}
          edit={gap =>
            editBender(id, b => wanted(gap >= 0, 'gap', '0 or more') ?? { ...b, followerGap: gap })
          }
        />
        <LengthField
          name="Margin"
          value={bender.margin ?? MARGIN_MM}
          hint="How far the tube should stay from the bender in the order that is proposed."
          label="Margin between tube and bender"
          edit={margin => editBender(id, b => wanted(margin >= 0, 'margin', '0 or more') ?? { ...b, margin })}
        />
        <TextField
          name="Note"
          value={bender.note}
          lines={2}
          label="Note on the bender"
          edit={note => editBender(id, b => ({ ...b, note }))}
        />
      </div>

      <BenderSketch hand={bender.hand} />
      <h3>Tooling, {word}</h3>
      <div className="tableScroll">
        <table className="bending-table editor">
          <thead>
            <tr>
              <th>name</th>
              <th>OD</th>
              <th>CLR</th>
              <th>CLR is</th>
              <th>clamp grip</th>
              <th>follower</th>
              <th>reference offset</th>
              <th>stretch at 90°</th>
              <th>stop °</th>
              <th>
                <span className="hidden-label">remove</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {bender.tooling.map((t, i) => {
              const ask = (key: ToolingFigure) => (value: number) => {
                const doubt = askAboutTooling(t, key, value)
                return doubt && `${capital(inUnit(doubt, unit))}. Use or correct?`
              }
              const missing = t.notMeasured ?? []
              const set = (key: Measurable, value: number, good: boolean, name: string, want: string) =>
                editRow(
                  id,
                  'tooling',
                  i,
                  row =>
                    wanted(good, name, want) ??
                    (key === 'od' || key === 'clr'
                      ? { ...row, [key]: value }
                      : withMeasured(row, key, value)),
                )
              const length = (
                name: string,
                key: Exclude<Measurable, 'maxAngle'>,
                good: (mm: number) => boolean,
                want: string,
              ) => (
                <td>
                  <LengthField
                    hideName
                    name={`${name}, ${t.id}`}
                    value={t[key]}
                    unknown={missing.some(m => m === key) ? 'not measured' : undefined}
                    label={`Tooling ${t.id}: ${name}`}
                    {...(key === 'od' ? {} : { ask: ask(key) })}
                    edit={mm => set(key, mm, good(mm), name, want)}
                  />
                </td>
              )
              return (
                <tr key={t.id} className={fits(t, run) ? 'chosen' : ''}>
                  <td>{t.id}</td>
                  {length('OD', 'od', mm => mm > 0, 'above 0')}
                  {length('CLR', 'clr', mm => mm > 0, 'above 0')}
                  <td>
                    <SelectField
                      hideName
                      name={`CLR is, ${t.id}`}
                      value={t.clrMeasured}
                      choices={[
                        { value: 'settled', text: 'of a settled bend' },
                        { value: 'die', text: 'of the die' },
                      ]}
                      label={`Tooling ${t.id}: what its CLR is`}
                      edit={v =>
                        editRow(id, 'tooling', i, row => ({
                          ...row,
                          clrMeasured: v === 'die' ? 'die' : 'settled',
                        }))
                      }
                    />
                  </td>
                  {length('clamp grip', 'clampGrip', mm => mm >= 0, '0 or more')}
                  {length('follower', 'followerLength', mm => mm >= 0, '0 or more')}
                  {length('reference offset', 'referenceOffset', Number.isFinite, 'a length')}
                  <td>
                    <LengthField
                      hideName
                      name={`stretch at 90°, ${t.id}`}
                      value={t.stretchAt90 ?? 0}
                      unknown={t.stretchAt90 === undefined ? 'not measured' : undefined}
                      ask={ask('stretchAt90')}
                      label={`Tooling ${t.id}: stretch at 90°`}
                      edit={mm =>
                        editRow(
                          id,
                          'tooling',
                          i,
                          row =>
                            wanted(Math.abs(mm) < row.clr, 'stretch at 90°', 'less than the CLR') ?? {
                              ...row,
                              stretchAt90: mm,
                            },
                        )
                      }
                    />
                  </td>
                  <td>
                    <AngleField
                      hideName
                      name={`stop, ${t.id}`}
                      value={t.maxAngle}
                      unknown={missing.includes('maxAngle') ? 'not measured' : undefined}
                      ask={ask('maxAngle')}
                      label={`Tooling ${t.id}: stop`}
                      edit={deg => set('maxAngle', deg, deg > 0 && deg < 360, 'stop', 'between 0° and 360°')}
                    />
                  </td>
                  <td>
                    <button
                      type="button"
                      aria-label={`Remove tooling ${t.id}`}
                      onClick={() =>
                        change(`Remove tooling ${t.id}`, b => ({
                          ...b,
                          tooling: b.tooling.filter(x => x.id !== t.id),
                        }))
                      }
                    >
                      Remove
                    </button>
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </div>
      <button
        type="button"
        onClick={() =>
          change('Add tooling', b => ({
            ...b,
            tooling: [
              ...b.tooling,
              freshTooling(
                run,
                freshId(
                  'tooling ',
                  b.tooling.map(t => t.id),
                ),
              ),
            ],
          }))
        }
      >
        Add tooling for this run’s tube
      </button>

      <h3>Springback: dial less finished angle = offset + per degree · finished angle</h3>
      <table className="bending-table editor">
        <thead>
          <tr>
            <th>material</th>
            <th>offset °</th>
            <th>per degree</th>
            <th>trials covered °</th>
            <th>
              <span className="hidden-label">remove</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {bender.springback.map((s, i) => (
            <tr key={s.material} className={s.material === run.tube.material ? 'chosen' : ''}>
              <td>{s.material}</td>
              <td>
                <AngleField
                  hideName
                  name={`offset, ${s.material}`}
                  value={s.offset}
                  label={`Springback of ${s.material}: offset`}
                  ask={offset => askSpringback({ ...s, offset })}
                  edit={offset => editRow(id, 'springback', i, row => ({ ...row, offset }))}
                />
              </td>
              <td>
                <QuantityField
                  hideName
                  kind={{ ...plainKind, step: 0.001 }}
                  name={`per degree, ${s.material}`}
                  value={s.perDegree}
                  label={`Springback of ${s.material}: per degree`}
                  ask={perDegree => askSpringback({ ...s, perDegree })}
                  edit={perDegree =>
                    editRow(
                      id,
                      'springback',
                      i,
                      row => wanted(perDegree > -1, 'per degree', 'above −1') ?? { ...row, perDegree },
                    )
                  }
                />
              </td>
              <td>
                {s.range ? `${formatAngle(s.range[0])} to ${formatAngle(s.range[1])}` : 'none: assumed'}
              </td>
              <td>
                <button
                  type="button"
                  aria-label={`Remove springback of ${s.material}`}
                  onClick={() =>
                    change(`Remove springback of ${s.material}`, b => ({
                      ...b,
                      springback: b.springback.filter(x => x.material !== s.material),
                    }))
                  }
                >
                  Remove
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="bending-row">
        {[...new Set([run.tube.material, ...MATERIALS.map(m => m.id)])]
          .filter(m => !bender.springback.some(s => s.material === m))
          .map(material => (
            <button
              key={material}
              type="button"
              onClick={() =>
                change(`Add springback of ${material}`, b => ({
                  ...b,
                  springback: [...b.springback, { material, offset: 0, perDegree: 0, range: null }],
                }))
              }
            >
              Add {material}
            </button>
          ))}
      </div>
      <BenderSolidsEditor bender={bender} />
    </section>
  )
}

const fits = (t: { od: number; clr: number }, run: Run): boolean =>
  Math.abs(t.od - run.tube.od) < 0.05 && Math.abs(t.clr - run.clr) < 0.05
