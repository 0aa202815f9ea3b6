import { useStore } from 'zustand'
import { takeUpdate, updateStore } from '../../store/updates.ts'

/** Offers a newer version; nothing changes until the button is pressed. */
export function UpdateNotice() {
  const waiting = useStore(updateStore, s => s.waiting)
  if (!waiting) return null
  return (
    <div className="update-notice" role="status">
      A newer version of Dogleg is ready. Your work is saved.{' '}
      <button type="button" onClick={takeUpdate}>
        Load it now
      </button>
    </div>
  )
}
