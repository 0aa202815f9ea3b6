import type { ReactNode } from 'react'
import { visibleText } from '../../document/visibleText.ts'

/** The inspector's heading: what is looked at, and what can be done with it. */
export function InspectHead({
  title,
  kind,
  children,
}: {
  title: string
  kind: string
  children?: ReactNode
}) {
  return (
    <header className="panel-head">
      <h2 className="inspect-title" title={`${visibleText(title)} ${visibleText(kind)}`}>
        {visibleText(title)} <span className="quiet">{visibleText(kind)}</span>
      </h2>
      <span className="inspect-actions">{children}</span>
    </header>
  )
}
