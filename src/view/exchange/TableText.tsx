import { useState } from 'react'
import { pickText, textOf } from '../../store/files.ts'

/** A table as it came: pasted (no name) or out of a file. */
export interface Source {
  readonly name: string
  readonly text: string
}

/** Where the table comes from: a file, or text pasted here, out of a spreadsheet too. It can be mended in place. */
export function TableText(props: { source: Source; hasText: boolean; read: (source: Source) => void }) {
  const { source, hasText, read } = props
  const [reason, setReason] = useState('')
  const [isOpen, setOpen] = useState(false)
  const choose = async () => {
    try {
      const file = await pickText('Table', ['.csv', '.tsv', '.txt'])
      const text = await textOf(file)
      if (typeof text === 'string') {
        setReason('')
        setOpen(false)
        read({ name: file.name, text })
      } else setReason(text.kind === 'refused' ? text.faults.map(f => f.message).join(' ') : '')
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'AbortError'))
        setReason(`The table could not be read: ${error instanceof Error ? error.message : String(error)}`)
    }
  }
  const isShown = !hasText || isOpen
  return (
    <div className="tableText">
      <div className="tableSource">
        <strong>{hasText ? source.name || 'Pasted table' : 'Points, or bend rows'}</strong>
        <span className="spring" />
        {hasText && (
          <button type="button" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
            {isOpen ? 'Hide the text' : 'Change the text'}
          </button>
        )}
        <button type="button" onClick={() => void choose()}>
          {hasText ? 'Another file…' : 'Choose a file…'}
        </button>
      </div>
      {isShown && (
        <label>
          {hasText ? (
            <span className="hidden-label">Text of the table</span>
          ) : (
            <span>
              or paste here: cells out of a spreadsheet, or text with commas, semicolons, tabs or blanks
              between
            </span>
          )}
          <textarea
            rows={hasText ? 7 : 12}
            spellCheck={false}
            // The attribute itself, which React leaves out: a dialog that opens looks for it.
            ref={element => element?.setAttribute('autofocus', '')}
            value={source.text}
            onChange={event => {
              setOpen(true)
              read({ name: source.name, text: event.currentTarget.value })
            }}
          />
        </label>
      )}
      {reason && (
        <p role="alert" className="refusal">
          {reason}
        </p>
      )}
    </div>
  )
}
