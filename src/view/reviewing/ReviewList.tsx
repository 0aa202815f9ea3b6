import { type KeyboardEvent, type ReactNode, useLayoutEffect, useMemo, useRef, useState } from 'react'
import { flushSync } from 'react-dom'
import type { Decided } from '../../checks/decisions.ts'
import type { SkidDocument } from '../../document/types.ts'
import type { Finding } from '../../findings/finding.ts'
import { findingFigure } from '../../findings/findingFigure.ts'
import { ruleWords } from '../../findings/rules.ts'
import { partName } from '../../skid/partName.ts'
import { solvedRunOf } from '../../store/derived.ts'
import { sessionStore } from '../../store/sessionStore.ts'
import { MiddleCut } from '../MiddleCut.tsx'
import { showFinding } from '../panels/showFinding.ts'
import { bodyPartOf, otherPartOf, partOf } from '../panels/wherePart.ts'
import { useSession, useShown } from '../useStore.ts'
import { type Group, stateWord } from './groups.ts'
import { placeGroups, ROW_PX, rowsInWindow, TITLE_PX, topOfRow } from './listLayout.ts'
import { StateMark } from './StateMark.tsx'

/** Lights what a finding is about, both parties of a pair; null: nothing any more. */
function pointAt(finding: Finding | null, document: SkidDocument) {
  const { setHover } = sessionStore.getState()
  if (!finding) return setHover(null)
  const { where } = finding
  const part = partOf(finding, solvedRunOf(document, where.run)) ?? bodyPartOf(where, document)
  setHover(part, otherPartOf(where, document))
}

interface Named {
  readonly run: string | null
  readonly other: string | undefined
  readonly document: SkidDocument
}

/** Both parties of a finding, each on a line of its own, so that a long name of one does not hide the other's. */
function PartNames({ run, other, document }: Named) {
  const first = run ? partName(document, run) : 'skid'
  const second = other ? partName(document, other) : null
  return (
    <span className="review-parts quiet" title={second ? `${first} and ${second}` : first}>
      <MiddleCut text={first} />
      {second && (
        <>
          {' '}
          <MiddleCut text={`and ${second}`} />
        </>
      )}
    </span>
  )
}

interface Props {
  readonly groups: readonly Group[]
  readonly chosen: Decided | null
  readonly onChoose: (item: Decided) => void
  /** What stands there when nothing is listed. */
  readonly empty: ReactNode
}

/**
 * One tab stop; the arrow keys, Page Up and Down, Home and End go through the findings, and the camera goes along. Of a
 * long list only the rows about its window are in the page, each saying which of how many it is.
 */
export function ReviewList({ groups, chosen, onChoose, empty }: Props) {
  const list = useRef<HTMLDivElement>(null)
  const document = useShown()
  const unit = useSession(s => s.unit)
  const [shown, setShown] = useState({ top: 0, height: 800 })
  const { placed, height } = useMemo(() => placeGroups(groups), [groups])
  const items = useMemo(() => groups.flatMap(g => g.items), [groups])
  const chosenId = chosen?.finding.id
  const at = useMemo(() => items.findIndex(i => i.finding.id === chosenId), [items, chosenId])
  const tabStop = Math.max(0, at)

  const measure = () => {
    const box = list.current
    if (!box) return
    const now = { top: box.scrollTop, height: box.clientHeight }
    setShown(was => (was.top === now.top && was.height === now.height ? was : now))
  }
  // biome-ignore lint/correctness/useExhaustiveDependencies: a shorter list has been scrolled back by the browser
  useLayoutEffect(measure, [height])
  const isEmpty = items.length === 0
  // biome-ignore lint/correctness/useExhaustiveDependencies: the box is there when there is something to list
  useLayoutEffect(() => {
    if (!list.current) return
    const observer = new ResizeObserver(measure)
    observer.observe(list.current)
    return () => observer.disconnect()
  }, [isEmpty])

  const choose = (index: number) => {
    const item = items[index]
    const box = list.current
    if (!item || !box) return
    flushSync(() => onChoose(item))
    const top = topOfRow(placed, index)!
    // Below the group's title, which stays at the top while its rows pass under it.
    if (top - TITLE_PX < box.scrollTop) box.scrollTop = top - TITLE_PX
    else if (top + ROW_PX > box.scrollTop + box.clientHeight) box.scrollTop = top + ROW_PX - box.clientHeight
    const row = box.querySelector<HTMLElement>(`[data-finding="${CSS.escape(item.finding.id)}"]`)
    row?.focus({ preventScroll: true })
    showFinding(item.finding, unit)
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const page = Math.max(1, Math.floor(shown.height / ROW_PX) - 1)
    const to = {
      ArrowDown: at + 1,
      ArrowUp: at - 1,
      PageDown: at + page,
      PageUp: at - page,
      Home: 0,
      End: items.length - 1,
    }[event.key]
    if (to === undefined) return
    event.preventDefault()
    choose(Math.min(items.length - 1, Math.max(0, to)))
  }

  if (isEmpty) return <div className="review-empty">{empty}</div>
  return (
    <div
      className="review-rows"
      role="listbox"
      aria-label="Findings"
      ref={list}
      onKeyDown={onKeyDown}
      onScroll={measure}
      tabIndex={-1}
    >
      <div className="review-all" role="presentation" style={{ height }}>
        {rowsInWindow(placed, shown, tabStop).map(({ placed: { group, top, height, first }, rows }) => (
          // biome-ignore lint/a11y/useSemanticElements: fieldset would not be a listbox group
          <div
            key={group.title}
            className="review-group"
            role="group"
            aria-label={group.title}
            style={{ top, height }}
          >
            <p className="group-title" aria-hidden="true">
              <MiddleCut text={group.title} /> <span className="quiet">{group.items.length}</span>
            </p>
            {rows.map(index => {
              const item = items[index]!
              const { finding } = item
              return (
                // biome-ignore lint/a11y/useKeyWithClickEvents: the list handles the keys for all its options
                <div
                  key={finding.id}
                  role="option"
                  aria-selected={index === at}
                  aria-posinset={index + 1}
                  aria-setsize={items.length}
                  tabIndex={index === tabStop ? 0 : -1}
                  className="review-row"
                  data-finding={finding.id}
                  style={{ top: TITLE_PX + (index - first) * ROW_PX }}
                  onPointerEnter={() => pointAt(finding, document)}
                  onPointerLeave={() => pointAt(null, document)}
                  onFocus={() => pointAt(finding, document)}
                  onBlur={() => pointAt(null, document)}
                  onClick={() => choose(index)}
                >
                  <StateMark item={item} />
                  <span className="review-what">
                    <b>{ruleWords(finding.rule)}</b>
                    <PartNames run={finding.where.run} other={finding.where.other} document={document} />
                  </span>
                  <span className="review-figures number">
                    <span>{findingFigure(finding.measured, finding, unit)}</span>{' '}
                    {finding.limit !== null && (
                      <span className="quiet">limit {findingFigure(finding.limit, finding, unit)}</span>
                    )}
                  </span>
                  <span className="hidden-label">{stateWord(item)}</span>
                </div>
              )
            })}
          </div>
        ))}
      </div>
    </div>
  )
}
