import { type KeyboardEvent, useRef } from 'react'
import type { Decided } from '../../checks/decisions.ts'
import { ruleWords } from '../../checks/ruleWords.ts'
import { useSession, useShown } from '../useStore.ts'
import { figures } from './figures.ts'
import { type Group, partName, stateWord } from './groups.ts'
import { StateMark } from './StateMark.tsx'
import { showFinding } from './showFinding.ts'

interface Props {
  readonly groups: readonly Group[]
  readonly chosen: Decided | null
  readonly onChoose: (item: Decided) => void
}

/** One tab stop; the arrow keys, Home and End go through the findings, and the camera goes along. */
export function ReviewList({ groups, chosen, onChoose }: Props) {
  const list = useRef<HTMLDivElement>(null)
  const document = useShown()
  const unit = useSession(s => s.unit)
  const items = groups.flatMap(g => g.items)
  const at = items.findIndex(i => i.finding.id === chosen?.finding.id)

  const choose = (index: number) => {
    const item = items[index]
    if (!item) return
    onChoose(item)
    showFinding(item.finding, unit)
    list.current?.querySelector<HTMLElement>(`[data-finding="${CSS.escape(item.finding.id)}"]`)?.focus()
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: items.length - 1 }[event.key]
    if (to === undefined) return
    event.preventDefault()
    choose(Math.min(items.length - 1, Math.max(0, to)))
  }

  if (items.length === 0)
    return <p className="review-empty">Nothing here. Findings that match would be listed worst first.</p>
  return (
    <div
      className="review-rows"
      role="listbox"
      aria-label="Findings"
      ref={list}
      onKeyDown={onKeyDown}
      tabIndex={-1}
    >
      {groups.map(g => (
        // biome-ignore lint/a11y/useSemanticElements: fieldset would not be a listbox group
        <div key={g.title} role="group" aria-label={g.title}>
          <p className="group-title" aria-hidden="true">
            {g.title} <span className="quiet">{g.items.length}</span>
          </p>
          {g.items.map(item => {
            const { finding } = item
            const picked = finding.id === chosen?.finding.id
            const index = items.indexOf(item)
            return (
              // biome-ignore lint/a11y/useKeyWithClickEvents: the list handles the keys for all its options
              <div
                key={finding.id}
                role="option"
                aria-selected={picked}
                tabIndex={picked || (at < 0 && index === 0) ? 0 : -1}
                className="review-row"
                data-finding={finding.id}
                onClick={() => choose(index)}
              >
                <StateMark item={item} />
                <span className="review-what">
                  <b>{ruleWords(finding.rule)}</b>
                  <span className="quiet">
                    {finding.where.run ? partName(document, finding.where.run) : 'skid'}
                    {finding.where.other ? ` and ${partName(document, finding.where.other)}` : ''}
                  </span>
                </span>
                <span className="review-figures number">{figures(finding, unit)}</span>
                <span className="hidden-label">{stateWord(item)}</span>
              </div>
            )
          })}
        </div>
      ))}
    </div>
  )
}
