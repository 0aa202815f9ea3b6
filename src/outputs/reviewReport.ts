import { type Decisions, isOpen } from '../checks/decisions.ts'
import type { SkidDocument } from '../document/types.ts'
import { partName } from '../skid/partName.ts'
import { csvLines } from './csvCell.ts'

const HEADER = [
  'state',
  'severity',
  'rule',
  'run',
  'with',
  'measured',
  'limit',
  'unit',
  'finding',
  'category',
  'reason',
  'accepted by',
  'accepted on',
  'id',
] as const

/** All findings and decisions as CSV (RFC 4180, CRLF, full precision, in mm whatever is shown), stale acceptances at the end. */
export function reviewCsv(document: SkidDocument, { decided, stale }: Decisions): string {
  const name = (id: string | null | undefined) => (id ? partName(document, id) : '')
  const rows = decided.map(item => {
    const { finding, acceptance } = item
    return [
      finding.severity === 'notChecked'
        ? 'not checked'
        : isOpen(item)
          ? 'open'
          : item.state === 'accepted'
            ? 'accepted'
            : 'note',
      finding.severity === 'notChecked' ? '' : finding.severity,
      finding.rule,
      name(finding.where.run),
      name(finding.where.other),
      finding.measured,
      finding.limit,
      finding.unit,
      finding.message,
      acceptance?.category ?? '',
      acceptance?.reason ?? '',
      acceptance?.by ?? '',
      acceptance?.on ?? '',
      finding.id,
    ]
  })
  const gone = stale.map(a => [
    'stale',
    '',
    a.finding.split(':')[0] ?? '',
    '',
    '',
    a.measured,
    a.limit,
    '',
    'the finding is gone',
    a.category,
    a.reason,
    a.by,
    a.on,
    a.finding,
  ])
  return csvLines([[...HEADER], ...rows, ...gone])
}
