import { useEffect, useMemo } from 'react'
import type { PaperPage } from '../../outputs/paper.ts'
import { printed } from '../../outputs/paperFont.ts'
import { writeSvg } from '../../outputs/writeSvg.ts'

interface Props {
  readonly pages: readonly PaperPage[]
  /** Why there is nothing to show; '' when there is. */
  readonly reason: string
}

/** With the characters that the PDF has. */
const asPrinted = (page: PaperPage): PaperPage => ({
  ...page,
  items: page.items.map(item => (item.kind === 'text' ? { ...item, text: printed(item.text) } : item)),
})

/** The pages as pictures: what is seen is what the printer gets. */
export function Preview({ pages, reason }: Props) {
  const pictures = useMemo(
    () =>
      pages.map((page, i) =>
        URL.createObjectURL(
          new Blob([writeSvg(asPrinted(page), `Page ${i + 1}`)], { type: 'image/svg+xml' }),
        ),
      ),
    [pages],
  )
  useEffect(
    () => () => {
      for (const picture of pictures) URL.revokeObjectURL(picture)
    },
    [pictures],
  )
  if (reason) return <p className="preview none">{reason}</p>
  if (pictures.length === 0) return <p className="preview none">A file for other programs: no preview.</p>
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section className="preview" aria-label="Preview" tabIndex={0}>
      {pictures.map((picture, i) => (
        <img key={picture} src={picture} alt={`Page ${i + 1} of ${pictures.length}`} />
      ))}
    </section>
  )
}
