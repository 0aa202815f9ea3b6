import type { ReactNode } from 'react'
import { useOneStop } from '../useOneStop.ts'

/** Parts by name, each a button: one tab stop however many they are, the arrow keys go through them. */
export function PartList({ children, name }: { readonly children: ReactNode; readonly name: string }) {
  return (
    <ul className="part-list" aria-label={name} {...useOneStop<HTMLUListElement>()}>
      {children}
    </ul>
  )
}
