import type { ReactNode } from 'react'

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
      <h2 className="inspect-title">
        {title} <span className="quiet">{kind}</span>
      </h2>
      <span className="inspect-actions">{children}</span>
    </header>
  )
}
