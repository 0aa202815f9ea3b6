export interface Move {
  /** px from the picture's top left. */
  readonly x: number
  readonly y: number
  /** px since the last move. */
  readonly dx: number
  readonly dy: number
  readonly alt: boolean
  readonly shift: boolean
  /** Ctrl, or ⌘. */
  readonly ctrl: boolean
}

/** What a held pointer does until it is let go. */
export interface Gesture {
  move(e: Move): void
  end(): void
  /** Puts everything back. */
  cancel(): void
  /** Takes a key while the gesture lasts; true when it used it. */
  key?(e: KeyboardEvent): boolean
  /** True once the gesture is over by itself (Enter): the release that follows means nothing. */
  readonly over?: () => boolean
}
