import { useCallback, useEffect, useRef, useState } from 'react'
import { useStore } from 'zustand'
import type { Copy } from '../../store/copies.ts'
import { listModelFiles, type ModelFileEntry, removeModelFile } from '../../store/modelFiles.ts'
import { modelStore } from '../../store/modelStore.ts'
import { bytesInWords } from './modelWords.ts'
import './models.css'

/** Names of the kept skids that have a model with this file: its hash is in their text. */
export const skidsWith = (hash: string, copies: readonly Pick<Copy, 'name' | 'text'>[]): string[] =>
  copies.filter(copy => copy.text.includes(`"${hash}"`)).map(copy => copy.name)

const focused = (button: HTMLButtonElement | null) => button?.focus()

interface Props {
  /** Null while it is not known which skids are kept. */
  readonly copies: readonly Copy[] | null
}

/** The model files that this browser keeps, with what they take up: a person may remove them. */
export default function KeptModels({ copies }: Props) {
  const [files, setFiles] = useState<readonly ModelFileEntry[]>([])
  const [problem, setProblem] = useState('')
  const [asking, setAsking] = useState<string | null>(null)
  const heading = useRef<HTMLHeadingElement>(null)
  const states = useStore(modelStore, s => s.states)
  const load = useCallback(
    () => listModelFiles().then(setFiles, (e: unknown) => setProblem((e as Error).message || String(e))),
    [],
  )
  useEffect(() => {
    void load()
  }, [load])
  if (problem) return <p role="alert">Model files cannot be listed: {problem}</p>
  if (files.length === 0 || copies === null) return null

  const remove = (hash: string) => {
    setAsking(null)
    removeModelFile(hash).then(
      () => {
        // The row that had the focus goes.
        heading.current?.focus()
        return load()
      },
      (e: unknown) => setProblem((e as Error).message || String(e)),
    )
  }
  const total = files.reduce((sum, f) => sum + f.bytes, 0)
  return (
    <section aria-label="Model files" className="kept-models">
      <h3 ref={heading} tabIndex={-1}>
        Model files <span className="quiet">{bytesInWords(total)}</span>
      </h3>
      <table className="copies">
        <thead>
          <tr>
            <th scope="col">File</th>
            <th scope="col" className="number">
              Size
            </th>
            <th scope="col">Used by</th>
            <th scope="col">
              <span className="hidden-label">Actions</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {files.map(({ hash, fileName, bytes }) => {
            const users = skidsWith(hash, copies)
            // What undo may bring back counts as open, too.
            const open = [...states.keys()].some(key => key.startsWith(`${hash}|`))
            const used = open ? 'the skid that is open' : namesInWords(users)
            return (
              <tr key={hash}>
                <th scope="row">{fileName}</th>
                <td className="number">{bytesInWords(bytes)}</td>
                <td>{used || <span className="quiet">no skid saved here</span>}</td>
                <td>
                  {asking === hash ? (
                    <div role="alert" className="kept-ask">
                      <p>
                        {namesInWords(users)} still {users.length === 1 ? 'needs' : 'need'} it. Without the
                        file the model is neither drawn nor checked until you locate the file.
                      </p>
                      <button
                        type="button"
                        // The focus was on the button that this takes the place of.
                        ref={focused}
                        onClick={() => {
                          setAsking(null)
                          heading.current?.focus()
                        }}
                      >
                        Keep it
                      </button>
                      <button type="button" onClick={() => remove(hash)}>
                        Remove it
                      </button>
                    </div>
                  ) : (
                    <button
                      type="button"
                      aria-label={`Remove ${fileName}`}
                      disabled={open}
                      onClick={() => (users.length > 0 ? setAsking(hash) : remove(hash))}
                    >
                      Remove
                    </button>
                  )}
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </section>
  )
}

/** "“A”, “B” and 3 more". */
function namesInWords(names: readonly string[]): string {
  const quoted = [...new Set(names)].map(name => `“${name}”`)
  const rest = quoted.length - 2
  return rest > 0 ? `${quoted.slice(0, 2).join(', ')} and ${rest} more` : quoted.join(' and ')
}
