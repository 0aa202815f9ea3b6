import { useState } from 'react'
import { visibleText } from '../../document/visibleText.ts'
import { documentStore } from '../../store/documentStore.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { useDocument } from '../useStore.ts'

/** The document's name, edited in place: Enter takes it, Escape gives the old one back. */
export function DocumentName() {
  const name = useDocument(state => state.document.name)
  const [draft, setDraft] = useState<string | null>(null)
  const take = () => {
    const wanted = draft?.trim()
    setDraft(null)
    if (wanted === undefined || draft === name || wanted === name) return
    if (wanted === '') return sessionStore.getState().say('A skid needs a name: the old one stays.')
    documentStore.getState().apply('Rename the skid', document => ({ ...document, name: wanted }))
  }
  return (
    <input
      className="documentName"
      aria-label="Name of the skid"
      value={draft ?? visibleText(name)}
      maxLength={200}
      onChange={event => setDraft(event.target.value)}
      onFocus={() => setDraft(name)}
      onBlur={take}
      onKeyDown={event => {
        if (event.key === 'Enter') take()
        else if (event.key === 'Escape') setDraft(null)
      }}
    />
  )
}
