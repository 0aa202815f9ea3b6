import { PDFiumLibrary } from '@hyzyla/pdfium'

/** All text of a PDF as an engine that we did not write reads it, pages one after the other, blanks made single. */
export async function pdfText(pdf: Uint8Array): Promise<string> {
  const library = await PDFiumLibrary.init()
  try {
    const document = await library.loadDocument(pdf)
    const texts: string[] = []
    for (const page of document.pages()) texts.push(page.getText())
    document.destroy()
    return texts.join('\n').replace(/\s+/g, ' ')
  } finally {
    library.destroy()
  }
}
