import { PDFiumLibrary } from '@hyzyla/pdfium'

/** A page as a printer would put it down: one byte a pixel, 0 black to 255 white. */
export interface Raster {
  readonly width: number
  readonly height: number
  readonly grey: Uint8Array
  /** Pixels in one millimetre of the page, along and down. */
  readonly perMm: { readonly x: number; readonly y: number }
}

/**
 * Every page of a PDF at so many dots per inch, drawn by a PDF engine that we did not write (pdfium as WebAssembly).
 * The page's true size is read from its MediaBox: left to itself the engine's wrapper rounds it to whole points.
 */
export async function rasterise(pdf: Uint8Array, dpi: number): Promise<Raster[]> {
  const text = Buffer.from(pdf).toString('latin1')
  const sizes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)].map(
    m => [Number(m[1]), Number(m[2])] as const,
  )
  const library = await PDFiumLibrary.init()
  try {
    const document = await library.loadDocument(pdf)
    const pages: Raster[] = []
    for (const page of document.pages()) {
      const [w, h] = sizes[pages.length]!
      const { width, height, data } = await page.render({
        width: Math.round((w * dpi) / 72),
        height: Math.round((h * dpi) / 72),
        colorSpace: 'Gray',
        render: async options => options.data,
      })
      const perMm = { x: (width / w) * (72 / 25.4), y: (height / h) * (72 / 25.4) }
      pages.push({ width, height, grey: data, perMm })
    }
    document.destroy()
    return pages
  } finally {
    library.destroy()
  }
}
