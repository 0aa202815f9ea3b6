import { formatLength } from '../document/quantity.ts'
import type { ClearanceReport } from '../skid/clearanceCommand.ts'

/** The clearance report as text for a person, nearest first, mm to 0.01; too near ones are marked in words. */
export function clearanceText({ within, pairs, notChecked }: ClearanceReport): string {
  const figure = (mm: number) => formatLength(mm, 'mm', { fixed: true })
  const head = ['clearance', 'asked', 'between', '']
  const rows = pairs.map(p => [
    figure(p.clearance),
    figure(p.required),
    p.a === p.b ? `${p.a} and itself` : `${p.a} and ${p.b}`,
    p.clearance < 0 ? 'CLASH' : p.clearance < p.required ? 'TOO CLOSE' : '',
  ])
  const widths = head.map((_, c) => Math.max(...[head, ...rows].map(r => r[c]!.length)))
  const line = (r: readonly string[]) =>
    `${r[0]!.padStart(widths[0]!)}  ${r[1]!.padStart(widths[1]!)}  ${r[2]!.padEnd(widths[2]!)}  ${r[3]}`.trimEnd()
  const total = `${pairs.length} pair${pairs.length === 1 ? '' : 's'} within ${formatLength(within, 'mm')} mm`
  return `${[line(head), ...rows.map(line), ...notChecked.map(n => `NOT CHECKED  ${n.name}: ${n.reason}`), total].join('\n')}\n`
}
