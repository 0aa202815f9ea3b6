import { formatLength, fractionError, type LengthUnit } from '../document/quantity.ts'

/** A place along the stock, mm from the end that it is printed from, and what is read off there. */
export interface PrintedPlace {
  readonly mm: number
  readonly printed: number
}

/** Lengths as one sheet of paper writes them, and what that makes of them. */
export interface PaperLengths {
  readonly unitWord: 'mm' | 'in'
  /** A length, mm, in the sheet's unit without its word. */
  readonly length: (mm: number) => string
  readonly withUnit: (mm: number) => string
  /** A place that is printed as a length from this end. */
  readonly place: (mm: number) => PrintedPlace
  /** The same place seen from the other end, where the whole is printed as well. */
  readonly fromOther: (whole: number, mm: number) => PrintedPlace
  /**
   * From one printed place on to another, > 0 or < 0: the difference of the two as they are printed, so that a chain of
   * them adds up to the printed length at its end. Without its sign.
   */
  readonly between: (from: PrintedPlace, to: PrintedPlace) => string
  /** The largest error that the writing made so far of a length, and of a difference, mm. */
  readonly worst: () => { readonly length: number; readonly between: number }
  /** Counts a length that is written elsewhere among those of this sheet. */
  readonly note: (mm: number) => void
}

/** To 0.1 mm, 0.001 in, or the nearest one of `fractionOf` parts of an inch. */
export function paperLengths(unit: LengthUnit, fractionOf = 32): PaperLengths {
  let worstLength = 0
  let worstBetween = 0
  const text = (mm: number) =>
    unit === 'mm'
      ? formatLength(mm, unit, { digits: 1, fixed: true })
      : formatLength(mm, unit, { fractionOf, digits: 3, fixed: unit === 'in' })
  const printed = (mm: number) =>
    unit === 'fraction'
      ? mm + fractionError(mm, fractionOf)
      : unit === 'mm'
        ? Number(text(mm))
        : Number(text(mm)) * 25.4
  const note = (mm: number) => {
    if (Number.isFinite(mm)) worstLength = Math.max(worstLength, Math.abs(printed(mm) - mm))
  }
  const length = (mm: number) => {
    note(mm)
    return text(mm)
  }
  const place = (mm: number) => ({ mm, printed: printed(mm) })
  const unitWord = unit === 'mm' ? 'mm' : 'in'
  return {
    unitWord,
    length,
    withUnit: mm => `${length(mm)} ${unitWord}`,
    place,
    fromOther: (whole, mm) => ({ mm: whole - mm, printed: printed(whole) - printed(mm) }),
    between: (from, to) => {
      const difference = to.printed - from.printed
      worstBetween = Math.max(worstBetween, Math.abs(difference - (to.mm - from.mm)))
      return text(Math.abs(difference))
    },
    worst: () => ({ length: worstLength, between: worstBetween }),
    note,
  }
}
