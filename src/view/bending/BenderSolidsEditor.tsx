import type { BenchSolid, Bender } from '../../document/types.ts'
import { DEG } from '../../geometry/vec3.ts'
import { AngleField } from '../fields/AngleField.tsx'
import { applyEdit, type Refusal } from '../fields/applyEdit.ts'
import { DirectionField } from '../fields/DirectionField.tsx'
import { LengthField } from '../fields/LengthField.tsx'
import { TextField } from '../fields/TextField.tsx'
import { VectorField } from '../fields/VectorField.tsx'
import { editBender, editRow, wanted } from './benderEdits.ts'

type List = 'housing' | 'arm'

/** What stands round the die, as tables: boxes and cylinders that stand still or turn with the die, and the bench. */
export function BenderSolidsEditor({ bender }: { bender: Bender }) {
  const { id } = bender
  const left = bender.hand === 'left'
  const change = (label: string, edit: (b: Bender) => Bender | Refusal) =>
    applyEdit(label, editBender(id, edit))
  const add = (list: List, solid: BenchSolid) =>
    change(`Add ${solid.name}`, b => ({ ...b, [list]: [...b[list], named(solid, b)] }))
  return (
    <>
      <h3>Solids</h3>
      <p className="quiet">
        Bench frame: origin where the bend starts, on the tube’s centre line; x towards the clamp, z up, y to
        the left. The die stands at {left ? '+y' : '−y'}. Solids that turn with the die are given in their
        position at 0°.
      </p>
      {(['housing', 'arm'] as const).map(list => (
        <div key={list} className="solidList">
          <h4>{list === 'housing' ? 'Stands still' : 'Turns with the die'}</h4>
          {bender[list].length === 0 && <p className="quiet">None.</p>}
          {bender[list].map((s, i) => (
            <SolidRow key={s.name} bender={bender} list={list} at={i} solid={s} />
          ))}
          <div className="bending-row">
            <button
              type="button"
              onClick={() =>
                add(list, { shape: 'box', name: 'box', at: [0, 0, -60], size: [50, 50, 50], turn: [0, 0, 0] })
              }
            >
              Add a box
            </button>
            <button
              type="button"
              onClick={() =>
                add(list, {
                  shape: 'cylinder',
                  name: 'cylinder',
                  at: [0, 0, -60],
                  axis: [0, 0, 1],
                  length: 50,
                  radius: 20,
                })
              }
            >
              Add a cylinder
            </button>
          </div>
        </div>
      ))}
      <BenchTopFields bender={bender} />
    </>
  )
}

function SolidRow({
  bender,
  list,
  at,
  solid,
}: {
  bender: Bender
  list: List
  at: number
  solid: BenchSolid
}) {
  const { id } = bender
  const label = `Change ${solid.name}`
  const edit = (to: (s: BenchSolid) => BenchSolid | Refusal) => editRow(id, list, at, to)
  return (
    <fieldset className="solidRow">
      <legend>
        {solid.name} · {solid.shape}
      </legend>
      <TextField
        name="Name"
        value={solid.name}
        label={label}
        edit={name =>
          editBender(id, b => {
            const taken = [...b.housing, ...b.arm].some(s => s.name === name.trim())
            const refused =
              wanted(name.trim() !== '', 'name', 'at least one letter') ??
              wanted(!taken, 'name', 'one that no other solid of this bender has')
            return (
              refused ?? { ...b, [list]: b[list].map((s, i) => (i === at ? { ...s, name: name.trim() } : s)) }
            )
          })
        }
      />
      <VectorField
        name="Centre"
        of="length"
        value={solid.at}
        label={label}
        edit={v => edit(s => ({ ...s, at: v }))}
      />
      {solid.shape === 'box' ? (
        <>
          <VectorField
            name="Size"
            of="length"
            value={solid.size}
            label={label}
            edit={size =>
              edit(s =>
                s.shape === 'box'
                  ? (wanted(
                      size.every(x => x > 0),
                      'size',
                      'three lengths above 0',
                    ) ?? { ...s, size })
                  : s,
              )
            }
          />
          <VectorField
            name="Rotated about x, y, z"
            of="angle"
            value={solid.turn}
            label={label}
            edit={turn => edit(s => (s.shape === 'box' ? { ...s, turn } : s))}
          />
        </>
      ) : (
        <>
          <DirectionField
            name="Axis"
            value={solid.axis}
            label={label}
            edit={axis => edit(s => (s.shape === 'cylinder' ? { ...s, axis } : s))}
          />
          <div className="pair">
            <LengthField
              name="Length"
              value={solid.length}
              label={label}
              edit={length =>
                edit(s =>
                  s.shape === 'cylinder' ? (wanted(length > 0, 'length', 'above 0') ?? { ...s, length }) : s,
                )
              }
            />
            <LengthField
              name="Radius"
              value={solid.radius}
              label={label}
              edit={radius =>
                edit(s =>
                  s.shape === 'cylinder' ? (wanted(radius > 0, 'radius', 'above 0') ?? { ...s, radius }) : s,
                )
              }
            />
          </div>
        </>
      )}
      <button
        type="button"
        aria-label={`Remove ${solid.name}`}
        onClick={() =>
          applyEdit(
            `Remove ${solid.name}`,
            editBender(id, b => ({ ...b, [list]: b[list].filter((_, i) => i !== at) })),
          )
        }
      >
        Remove
      </button>
    </fieldset>
  )
}

function BenchTopFields({ bender }: { bender: Bender }) {
  const { id, benchTop, benchEdge } = bender
  const change = (label: string, edit: (b: Bender) => Bender | Refusal) =>
    applyEdit(label, editBender(id, edit))
  return (
    <div className="solidList">
      <h4>Bench top</h4>
      {benchTop === null ? (
        <button
          type="button"
          onClick={() => change('Put the bender on a bench', b => ({ ...b, benchTop: -100 }))}
        >
          It stands on a bench
        </button>
      ) : (
        <fieldset className="solidRow">
          <legend>bench top</legend>
          <LengthField
            name="Height (below: −)"
            value={benchTop}
            label="Height of the bench top"
            edit={mm => editBender(id, b => ({ ...b, benchTop: mm }))}
          />
          {benchEdge === null ? (
            <button
              type="button"
              onClick={() =>
                change('Give the bench an edge', b => ({
                  ...b,
                  benchEdge: { at: [100, 0], outward: [1, 0] },
                }))
              }
            >
              Edge given
            </button>
          ) : (
            <>
              <LengthField
                name="Edge through x"
                value={benchEdge.at[0]}
                label="Edge of the bench"
                edit={x =>
                  editBender(id, b => ({ ...b, benchEdge: { ...benchEdge, at: [x, benchEdge.at[1]] } }))
                }
              />
              <LengthField
                name="Edge through y"
                value={benchEdge.at[1]}
                label="Edge of the bench"
                edit={y =>
                  editBender(id, b => ({ ...b, benchEdge: { ...benchEdge, at: [benchEdge.at[0], y] } }))
                }
              />
              <AngleField
                name="Free side of the edge (0 is +x, 90 is +y)"
                value={Math.atan2(benchEdge.outward[1], benchEdge.outward[0]) / DEG}
                label="Edge of the bench"
                edit={deg =>
                  editBender(id, b => ({
                    ...b,
                    benchEdge: { ...benchEdge, outward: [Math.cos(deg * DEG), Math.sin(deg * DEG)] },
                  }))
                }
              />
              <button type="button" onClick={() => change('No edge', b => ({ ...b, benchEdge: null }))}>
                No edge given
              </button>
            </>
          )}
          <button
            type="button"
            onClick={() => change('Free-standing bender', b => ({ ...b, benchTop: null, benchEdge: null }))}
          >
            No bench
          </button>
        </fieldset>
      )}
    </div>
  )
}

/** The solid with a name that no other of the bender has: findings tell solids apart by name. */
function named(solid: BenchSolid, { housing, arm }: Bender): BenchSolid {
  const taken = new Set([...housing, ...arm].map(s => s.name))
  if (!taken.has(solid.name)) return solid
  let n = 2
  while (taken.has(`${solid.name} ${n}`)) n++
  return { ...solid, name: `${solid.name} ${n}` }
}
