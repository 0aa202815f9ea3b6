declare module 'pdfkit/output' {
  /** The whole file, once the document has ended. */
  export function toBytes(document: PDFKit.PDFDocument): Promise<Uint8Array>
}
declare module '*.ttf?deflated' {
  /** Where the font is served. */
  const address: string
  export default address
}
