import { Component, type ReactNode, useEffect } from 'react'
import { documentStore } from '../store/documentStore.ts'
import { downloadDocument } from '../store/files.ts'

interface Props {
  /** What is inside, as in "Layout". */
  readonly what: string
  /** What to do where there is another way than to show that it failed. */
  readonly instead?: (error: Error) => ReactNode
  readonly again?: () => void
  readonly children: ReactNode
}

/**
 * Stands round a view: what is thrown inside takes that view away and nothing else. The document, undo, saving and the
 * other views go on; the next change of the document, an undo among them, tries the view again.
 */
export class Boundary extends Component<Props, { readonly error: Error | null }> {
  override state: { readonly error: Error | null } = { error: null }

  static getDerivedStateFromError(error: unknown) {
    return { error: error instanceof Error ? error : new Error(String(error)) }
  }

  again = () => {
    this.props.again?.()
    this.setState({ error: null })
  }

  override render() {
    const { error } = this.state
    if (!error) return this.props.children
    const { what, instead } = this.props
    return instead ? instead(error) : <Failed what={what} error={error} again={this.again} />
  }
}

function Failed({ what, error, again }: { what: string; error: Error; again: () => void }) {
  useEffect(
    () =>
      documentStore.subscribe((now, before) => {
        if (now.settled !== before.settled) again()
      }),
    [again],
  )
  return (
    <main className="failed" role="alert">
      <h1>{what} stopped</h1>
      <p>
        An error in the program: <q>{error.message || error.name}</q>. The skid is unchanged; undo, saving and
        the other views work.
      </p>
      <div className="failed-ways">
        <button type="button" className="primary" onClick={again}>
          Try again
        </button>
        <button type="button" onClick={() => downloadDocument(documentStore.getState().settled)}>
          Download the skid
        </button>
      </div>
    </main>
  )
}
