import { useStore } from 'zustand'
import { modelStore, stateOfModel } from '../../store/modelStore.ts'
import { useShown } from '../useStore.ts'

/** What can be done about a model that is not checked because its file is not there. */
export function GiveFile({ modelId }: { modelId: string }) {
  const model = useShown().models.find(m => m.id === modelId)
  const kind = useStore(modelStore, s => model && stateOfModel(s, model).kind)
  if (!model || (kind !== 'missing' && kind !== 'refused')) return null
  return (
    <div className="finding-fix">
      <button
        type="button"
        className="small"
        onClick={() => void import('../models/modelActions.ts').then(({ giveFile }) => giveFile(model))}
      >
        Locate file…
      </button>
    </div>
  )
}
