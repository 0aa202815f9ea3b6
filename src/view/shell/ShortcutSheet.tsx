import { useStore } from 'zustand'
import { SCENE_KEYS } from '../scene/gestures/sceneKeys.ts'
import { COMMANDS, type Command } from './commands.ts'
import { dialogStore } from './dialogStore.ts'
import { keyText } from './keyText.ts'
import { Modal } from './Modal.tsx'

const GROUPS: readonly Command['group'][] = ['Document', 'View', 'Tools and display']

/** Everything that the keyboard does anywhere on the page. */
export function ShortcutSheet() {
  const singleKeys = useStore(dialogStore, state => state.singleKeys)
  return (
    <Modal title="Shortcuts">
      <div className="shortcuts">
        {GROUPS.map(group => (
          <section key={group} aria-label={group}>
            <h3>{group}</h3>
            <dl>
              {COMMANDS.filter(command => command.group === group).map(command => (
                <div key={command.keys}>
                  <dt>{command.label}</dt>
                  <dd>
                    <kbd>{keyText(command.keys)}</kbd>
                  </dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
      <section className="sceneKeys" aria-label="3D view">
        <h3>While the 3D view has the focus</h3>
        <dl>
          {SCENE_KEYS.map(entry => (
            <div key={entry.keys}>
              <dt>{entry.label}</dt>
              <dd>
                <kbd>{entry.keys}</kbd>
              </dd>
            </div>
          ))}
        </dl>
      </section>
      <p className="quiet">
        Tables: arrow keys move, Enter or typing edits, Escape restores the old value. Fields take mm, in,
        fractions and sums: <code>6 3/16in</code>, <code>25.4*3+10</code>.
      </p>
      <label className="tickBox">
        <input
          type="checkbox"
          checked={singleKeys}
          onChange={event => dialogStore.setState({ singleKeys: event.target.checked })}
        />
        Single letters are shortcuts (switch off for speech input)
      </label>
    </Modal>
  )
}
