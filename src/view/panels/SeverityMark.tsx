import type { Severity } from '../../findings/finding.ts'

type Mark = Severity | 'accepted' | 'ok'

/** Each severity has a shape of its own, so that colour is never the only sign. */
export function SeverityMark({ of, size = 16 }: { of: Mark; size?: number }) {
  return (
    <svg className={`mark mark-${of}`} width={size} height={size} viewBox="0 0 16 16" aria-hidden>
      {SHAPES[of]}
    </svg>
  )
}

const SHAPES: Record<Mark, React.ReactNode> = {
  error: (
    <>
      <path className="body" d="M5 1h6l4 4v6l-4 4H5l-4-4V5z" />
      <path className="sign" d="M5.4 5.4l5.2 5.2M10.6 5.4l-5.2 5.2" />
    </>
  ),
  warning: (
    <>
      <path className="body" d="M8 1.2 15.4 14.6H.6z" />
      <path className="sign" d="M8 6v4M8 12.1v.4" />
    </>
  ),
  note: (
    <>
      <circle className="body" cx="8" cy="8" r="7" />
      <path className="sign" d="M8 7.4v4M8 4.4v.4" />
    </>
  ),
  notChecked: (
    <>
      <circle className="ring" cx="8" cy="8" r="6.2" />
      <path className="own" d="M6.2 6.3a1.9 1.9 0 1 1 2.6 1.8c-.6.3-.8.6-.8 1.3M8 11.6v.3" />
    </>
  ),
  accepted: (
    <>
      <rect className="line" x="1.8" y="1.8" width="12.4" height="12.4" rx="2" />
      <path className="own" d="M4.9 8.3l2.2 2.2 4-4.6" />
    </>
  ),
  ok: (
    <>
      <circle className="line" cx="8" cy="8" r="6.4" />
      <path className="own" d="M4.9 8.3l2.2 2.2 4-4.6" />
    </>
  ),
}
