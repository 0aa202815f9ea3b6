import './middleCut.css'

/** Characters of a long text's end that are always to be seen. */
const END = 6
/** A text so short is never parted. */
const SHORT = 2 * END

/**
 * A text on one line that is cut in its middle when there is no room for it: what tells long names apart stands at
 * their ends. The whole of it is in the page, and in its tooltip.
 */
export function MiddleCut({ text }: { readonly text: string }) {
  if (text.length <= SHORT)
    return (
      <span className="middle-cut">
        <span className="middle-cut-start">{text}</span>
      </span>
    )
  const letters = Array.from(text)
  return (
    <span className="middle-cut" title={text}>
      {/* In one piece, for whoever is read it: of two that stand side by side a blank is made between them. */}
      <span className="hidden-label">{text}</span>
      <span className="middle-cut-start" aria-hidden="true">
        {letters.slice(0, -END).join('')}
      </span>
      <span className="middle-cut-end" aria-hidden="true">
        {letters.slice(-END).join('')}
      </span>
    </span>
  )
}
