import { formatLength } from '../../document/quantity.ts'
import { visibleText } from '../../document/visibleText.ts'
import type { CutBar, CutGroup } from '../../outputs/cutList.ts'
import { piecesInWords, tubeName, wasteShare } from '../../outputs/writeCutList.ts'
import { lengthUnitWord } from '../fields/quantityKind.ts'
import { useSession } from '../useStore.ts'

/** Pieces longer than this part of the longest bar have room for their words in the picture. */
const WIDE = 0.12

/** One size of tube: its figures, then each bar to scale with its pieces in the order of cutting. */
export function CutBars({ group, endTrim }: { group: CutGroup; endTrim: number }) {
  const unit = useSession(state => state.unit)
  const bare = (mm: number) => formatLength(mm, unit, { digits: unit === 'mm' ? 1 : 3 })
  const show = (mm: number) => `${bare(mm)} ${lengthUnitWord(unit)}`
  const longest = Math.max(...group.bars.map(b => b.length))
  const used = group.bars.filter(b => b.remnant).length
  const over = group.bought - group.leastBought
  return (
    <section className="cutGroup">
      <h3>{tubeName(group)}</h3>
      <dl className="cutFigures">
        <div>
          <dt>Bars</dt>
          <dd>
            {group.bars.length}
            <span className="quiet">
              {` for ${piecesInWords(group.pieces)}${used > 0 ? `, ${used} of them leftovers` : ''}`}
            </span>
          </dd>
        </div>
        <div>
          <dt>New stock</dt>
          <dd>{show(group.bought)}</dd>
        </div>
        <div>
          <dt>Waste</dt>
          <dd>
            {`${(100 * wasteShare(group)).toFixed(1)} %`}
            <span className="quiet">{` kerf ${bare(group.kerf)}, trim ${bare(group.trim)}, scrap ${bare(group.scrap)}`}</span>
          </dd>
        </div>
        <div>
          <dt>Kept</dt>
          <dd>
            {show(group.remnants)}
            <span className="quiet"> of leftovers</span>
          </dd>
        </div>
      </dl>
      <p className={group.proven ? 'cutProven' : 'cutUnproven'}>
        {group.proven
          ? '✓ Proven: no cut list opens less new stock.'
          : `Best found: at most ${show(over)} (${((100 * over) / group.bought).toFixed(1)} %) more new stock than the least possible.`}
      </p>
      <ol className="cutBars">
        {group.bars.map((bar, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a bar is its place in the list
          <li key={i}>
            <p className="cutBarHead">
              <b>Bar {i + 1}</b>
              <span>{`${bar.remnant ? 'leftover' : 'new'}, ${show(bar.length)}`}</span>
              <span className="cutLeft">{leftInWords(bar, show)}</span>
            </p>
            <div className="cutBar" aria-hidden="true" style={{ width: `${(100 * bar.length) / longest}%` }}>
              <Stretch of="trim" from={0} to={endTrim} bar={bar} />
              {bar.pieces.map(p => (
                <Stretch
                  key={p.at}
                  of="piece"
                  from={endTrim + p.at}
                  to={endTrim + p.at + p.length}
                  bar={bar}
                  words={[p.tag, bare(p.length)]}
                />
              ))}
              <Stretch
                of={bar.leftIs}
                from={bar.length - bar.left}
                to={bar.length}
                bar={bar}
                words={[bar.leftIs === 'remnant' ? 'kept' : 'scrap', bare(bar.left)]}
              />
            </div>
            <p className={`cutOrder ${bar.pieces.every(p => p.length > WIDE * longest) ? 'told' : ''}`}>
              {bar.pieces.map(p => `${visibleText(p.tag)} ${bare(p.length)}`).join(' · ')}
            </p>
          </li>
        ))}
      </ol>
    </section>
  )
}

const leftInWords = ({ left, leftIs }: CutBar, show: (mm: number) => string) =>
  left <= 0 ? 'nothing left' : `${show(left)} left, ${leftIs === 'remnant' ? 'kept' : 'scrap'}`

interface StretchProps {
  readonly of: 'trim' | 'piece' | 'remnant' | 'scrap'
  /** Along the bar, mm. */
  readonly from: number
  readonly to: number
  readonly bar: CutBar
  readonly words?: readonly [string, string]
}

function Stretch({ of, from, to, bar, words }: StretchProps) {
  if (to <= from) return null
  const percent = (mm: number) => `${(100 * mm) / bar.length}%`
  return (
    <span className={`cutStretch ${of}`} style={{ left: percent(from), width: percent(to - from) }}>
      {words && (
        <span className="cutWords">
          <b>{words[0]}</b>
          {words[1]}
        </span>
      )}
    </span>
  )
}
