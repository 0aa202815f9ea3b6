/**
 * Every text of an uncompressed PDF by itself, in the order in which it is drawn, each from BT to ET, as the file's own
 * ToUnicode tables (ISO 32000) give it to whoever copies it.
 */
export function pdfStrings(bytes: Uint8Array): string[] {
  const file = Buffer.from(bytes).toString('latin1')
  const objectOf = (number: string) => {
    const from = file.indexOf(`\n${number} 0 obj\n`)
    return file.slice(from, file.indexOf('\nendobj', from))
  }
  const fonts = new Map<string, readonly string[]>()
  for (const [, name, font] of file.matchAll(/\/(F\d+) (\d+) 0 R/g)) {
    if (fonts.has(name!)) continue
    const table = objectOf(/\/ToUnicode (\d+) 0 R/.exec(objectOf(font!))![1]!)
    const entries = [...table.matchAll(/<[0-9a-f]{4}> <[0-9a-f]{4}> \[([^\]]*)\]/g)].flatMap(range => [
      ...range[1]!.matchAll(/<([0-9a-f ]*)>/g),
    ])
    fonts.set(
      name!,
      entries.map(([, units]) =>
        String.fromCharCode(...units!.split(' ').map(unit => Number.parseInt(unit, 16))),
      ),
    )
  }
  return [...file.matchAll(/\nBT\n([\s\S]*?)\nET\n/g)].map(([, drawn]) => {
    const characters = fonts.get(/\/(F\d+) /.exec(drawn!)![1]!)!
    return [...drawn!.matchAll(/<([0-9a-f]+)>/g)]
      .flatMap(([, glyphs]) => glyphs!.match(/.{4}/g)!)
      .map(glyph => characters[Number.parseInt(glyph, 16)]!)
      .join('')
  })
}
