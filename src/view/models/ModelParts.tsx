import { useEffect, useMemo, useState } from 'react'
import { editModelParts } from '../../document/modelEdits.ts'
import type { Model, ModelKind, SkidDocument } from '../../document/types.ts'
import type { LoadedModel } from '../../store/modelStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import type { Edit } from '../fields/applyEdit.ts'
import { SelectField } from '../fields/SelectField.tsx'
import { useSession } from '../useStore.ts'
import { hiddenShare, hideParts, showOnly } from './hideBodies.ts'
import { modelViewStore } from './modelViewStore.ts'
import { counted, MODEL_KIND_NAMES } from './modelWords.ts'
import { PartTree } from './PartTree.tsx'
import { type PartNode, partTree } from './partRows.ts'

interface Props {
  readonly document: SkidDocument
  readonly model: Model
  readonly loaded: LoadedModel
  /** Of the part that is selected, here or in the picture; null when it is the whole model. */
  readonly partKey: string | null
}

/** Several kinds, or several fittings, at once. */
const MIXED = 'mixed'

/** The parts of a model: which are shown, and what each is to the clearance check. */
export function ModelParts({ document, model, loaded, partKey }: Props) {
  const parts = loaded.drawing.parts
  const tree = useMemo(() => partTree(parts), [parts])
  const all = useMemo(() => parts.map(p => p.key), [parts])
  const [filter, setFilter] = useState('')
  const [branch, setBranch] = useState<PartNode | null>(null)
  const hidden = useSession(s => s.hiddenBodies)
  const own = useMemo(() => (partKey === null ? null : findPart(tree, partKey)), [tree, partKey])
  const active = own ?? branch
  useEffect(() => {
    if (partKey !== null) setBranch(null)
  }, [partKey])
  useEffect(() => {
    modelViewStore.setState({
      branch: branch && partKey === null ? { model: model.id, keys: new Set(branch.keys) } : null,
    })
    return () => modelViewStore.setState({ branch: null })
  }, [branch, partKey, model.id])

  const activate = (node: PartNode) => {
    setBranch(node.key === null ? node : null)
    sessionStore.getState().select({ kind: 'model', model: model.id, key: node.key })
  }
  const hiddenAll = hiddenShare(hidden, model.id, all)
  return (
    <section aria-label="Parts" className="model-parts">
      <h3>
        Parts <span className="quiet">{parts.length}</span>
      </h3>
      {parts.length > 8 && (
        <label className="part-filter">
          <span className="hidden-label">Show parts named</span>
          <input
            type="search"
            placeholder="Parts named…"
            value={filter}
            onChange={event => setFilter(event.currentTarget.value)}
          />
        </label>
      )}
      <PartTree model={model} tree={tree} all={all} filter={filter} active={active} onActive={activate} />
      <div className="part-buttons">
        {active && (
          <>
            <button
              type="button"
              className="small"
              onClick={() =>
                hideParts(model.id, active.keys, all, hiddenShare(hidden, model.id, active.keys) !== 'all')
              }
            >
              {hiddenShare(hidden, model.id, active.keys) === 'all' ? 'Show' : 'Hide'}
            </button>
            <button type="button" className="small" onClick={() => showOnly(model.id, active.keys, all)}>
              Show only this
            </button>
          </>
        )}
        <button
          type="button"
          className="small"
          disabled={hiddenAll === 'none'}
          onClick={() => hideParts(model.id, all, all, false)}
        >
          Show all
        </button>
      </div>
      {hiddenAll !== 'none' && <p className="quiet">Hidden parts are not drawn but still checked.</p>}
      {active && <PartFields document={document} model={model} node={active} />}
    </section>
  )
}

function PartFields({ document, model, node }: { document: SkidDocument; model: Model; node: PartNode }) {
  const own = new Map(model.parts.map(p => [p.key, p]))
  const said = node.keys.map(key => own.get(key) ?? model)
  const one = <T,>(values: readonly T[]): T | null => (new Set(values).size === 1 ? values[0]! : null)
  const kind = one(said.map(p => p.kind))
  const fittings = new Set(said.map(p => p.fitting))
  const fitting = fittings.size === 1 ? ([...fittings][0] ?? '') : MIXED
  const what = node.key === null ? `${node.name}, ${counted(node.keys.length, 'part', 'parts')}` : node.name
  const put =
    (patch: Parameters<typeof editModelParts>[3]): Edit =>
    settled =>
      editModelParts(settled, model.id, node.keys, patch)
  return (
    <fieldset className="part-fields">
      <legend>{what}</legend>
      <SelectField
        name="Kind"
        value={kind ?? MIXED}
        label={`Change the kind of ${what}`}
        choices={[
          ...(kind === null ? [{ value: MIXED, text: 'mixed' }] : []),
          ...Object.entries(MODEL_KIND_NAMES).map(([value, text]) => ({ value, text })),
        ]}
        edit={to => (to === MIXED ? settled => settled : put({ kind: to as ModelKind }))}
      />
      <SelectField
        name="Belongs to"
        value={fitting}
        label={`Change what ${what} belongs to`}
        choices={[
          ...(fitting === MIXED ? [{ value: MIXED, text: 'mixed' }] : []),
          { value: '', text: 'no fitting' },
          ...document.fittings.map(f => ({ value: f.id, text: f.name })),
        ]}
        edit={to => (to === MIXED ? settled => settled : put({ fitting: to === '' ? null : to }))}
      />
    </fieldset>
  )
}

function findPart(nodes: readonly PartNode[], key: string): PartNode | null {
  for (const node of nodes) {
    if (node.key === key) return node
    const below = node.children.length > 0 ? findPart(node.children, key) : null
    if (below) return below
  }
  return null
}
