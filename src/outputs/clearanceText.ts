import { formatLength } from '../document/quantity.ts'
import type { ClearanceReport } from '../skid/clearanceCommand.ts'

/** The clearance report as text for a person, nearest first, mm to 0.01; too near ones are marked in words. */
export function clearanceText({ within, pairs, ports, notChecked }: ClearanceReport): string {
  const figure = (mm: number) => formatLength(mm, 'mm', { fixed: true })
  const head = ['clearance', 'asked', 'between', '']
  const rows = pairs.map(p => [
    figure(p.clearance),
    figure(p.required),
    p.a === p.b ? `${p.a} and itself` : `${p.a} and ${p.b}`,
    verdict(p),
  ])
  const widths = head.map((_, c) => Math.max(...[head, ...rows].map(r => r[c]!.length)))
  const line = (r: readonly string[]) =>
    `${r[0]!.padStart(widths[0]!)}  ${r[1]!.padStart(widths[1]!)}  ${r[2]!.padEnd(widths[2]!)}  ${r[3]}`.trimEnd()
  const total = `${pairs.length} pair${pairs.length === 1 ? '' : 's'} within ${formatLength(within, 'mm')} mm or nearer than required`
  const buried = ports.map(p => `${p.state === 'accepted' ? 'ACCEPTED' : 'PORT'}  ${p.message}`)
  return `${[line(head), ...rows.map(line), ...buried, ...notChecked.map(n => `NOT CHECKED  ${n.name}: ${n.reason}`), total].join('\n')}\n`
}

/** What a pair is, and what of it was left out, in words. */
function verdict({ clearance, state, exempt = [] }: ClearanceReport['pairs'][number]): string {
  const word = state === 'fine' ? '' : clearance < 0 ? 'CLASH' : 'TOO CLOSE'
  const stubs = exempt.map(s => `first ${formatLength(s.length, 'mm')} mm at end ${s.end}`).join(' and ')
  return [word, state === 'accepted' ? '(accepted)' : '', stubs && `without the ${stubs}`]
    .filter(Boolean)
    .join(' ')
}
