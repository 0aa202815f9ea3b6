/** A box on the screen, px. */
export interface ScreenBox {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** How near to the picture's edge a label comes, px. */
const EDGE_PX = 6

export const covers = (a: ScreenBox, b: ScreenBox): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height

/**
 * Where a label goes that has to be read: beside its point `at`, at the first of the four corners about it where it lies
 * in the picture and under no bar; else moved into the picture and past the bars, as far as there is room.
 *
 * @param label its box beside a point at 0, 0.
 */
export function keepInside(
  at: { readonly x: number; readonly y: number },
  label: ScreenBox,
  frame: { readonly width: number; readonly height: number },
  bars: readonly ScreenBox[],
): ScreenBox {
  const { width, height } = label
  const other = { x: 0 - label.x - width, y: 0 - label.y - height }
  const corners = [label.y, other.y].flatMap(y =>
    [label.x, other.x].map((x): ScreenBox => ({ x: at.x + x, y: at.y + y, width, height })),
  )
  const isInside = (b: ScreenBox) =>
    b.x >= EDGE_PX &&
    b.y >= EDGE_PX &&
    b.x + width <= frame.width - EDGE_PX &&
    b.y + height <= frame.height - EDGE_PX
  const free = corners.find(b => isInside(b) && !bars.some(bar => covers(bar, b)))
  if (free) return free
  const into = (v: number, size: number, room: number) =>
    Math.max(EDGE_PX, Math.min(v, room - EDGE_PX - size))
  const moved = corners.map(
    (b): ScreenBox => ({ ...b, x: into(b.x, width, frame.width), y: into(b.y, height, frame.height) }),
  )
  // Past a bar, up or down, as little as it takes.
  const past = bars.flatMap(bar => [bar.y - height - 1, bar.y + bar.height + 1])
  const beside = moved
    .flatMap(b => [b, ...past.map(y => ({ ...b, y }))])
    .filter(b => isInside(b) && !bars.some(bar => covers(bar, b)))
    .sort((a, b) => Math.abs(a.y - moved[0]!.y) - Math.abs(b.y - moved[0]!.y))
  return beside[0] ?? moved[0]!
}
