import { KNOWN_BENDERS } from '../document/knownBenders.ts'

/* Options that several commands take, and what the help says of them. */

export const JSON_OPTION = { json: { takes: null } } as const
export const MODELS_OPTION = { models: { takes: 'FOLDER' } } as const
export const RUN_OPTION = { run: { takes: 'TAG' } } as const
export const LEAD_OPTION = { lead: { takes: 'A|B|best' } } as const
export const OUT_OPTION = { out: { takes: 'F' }, overwrite: { takes: null } } as const
export const PAPER_OPTION = { paper: { takes: 'A4|A3|Letter' } } as const

/** How a table is laid out. */
export const TABLE_OPTIONS = {
  columns: { takes: 'LIST' },
  delimiter: { takes: 'comma|semicolon|tab|space' },
  decimal: { takes: 'point|comma' },
  unit: { takes: 'mm|cm|m|in|ft' },
} as const
/** What bend rows have besides. */
export const ROW_OPTIONS = {
  turns: { takes: 'clockwise|counter' },
  lengths: { takes: 'straights|legs' },
} as const
/** What a table of points does not say itself; for commands that take a skid document or a table. */
export const OF_A_TABLE = {
  od: { takes: 'MM' },
  wall: { takes: 'MM' },
  clr: { takes: 'MM' },
  bender: { takes: 'ID' },
  ...TABLE_OPTIONS,
} as const

/** Fields of the title block that an option fills in. */
export const TITLE_OPTIONS = {
  owner: { takes: 'TEXT' },
  number: { takes: 'TEXT' },
  title: { takes: 'TEXT' },
  creator: { takes: 'TEXT' },
  approver: { takes: 'TEXT' },
  revision: { takes: 'TEXT' },
} as const
/** Who lets a sheet with open findings out, and why. */
export const RELEASE_OPTIONS = { 'released-by': { takes: 'NAME' }, reason: { takes: 'TEXT' } } as const

/** What the help says of options that several commands take. */
export const SHARED_HELP = `FILE is a skid document (JSON), or a CSV of points with the header x,y,z and then also
  --od MM --wall MM --clr MM   the tube and its centre-line radius; 0.5in works too
  --bender ID                  a bender of the reference table to check against:
                               ${KNOWN_BENDERS.map(k => k.bender.id).join(', ')}
Imported models are found beside FILE, by name and content (solve, check, clearance, sheet, export)
  --models FOLDER              in another folder
For a table in another layout (also for rows)
  --columns LIST               what each column is, as in tag,x,y,z,- or straight,rotation,angle; - for a column not used
                               (write --columns=-,x,y,z if the first is not used)
  --delimiter comma|semicolon|tab|space
  --decimal point|comma        "1,5" is never guessed
  --unit mm|cm|m|in|ft         of lengths without a unit; fractions such as 6 3/16 are accepted
  --turns clockwise|counter    rows: direction of a positive rotation, looking from A to B; default clockwise
  --lengths straights|legs     rows: between tangent points, or between intersections; default straights
In a column of tags, each tag becomes a run.
Lengths on paper (sheet, strip, review) are in mm. For a skid document
  --unit mm|in|fraction        chooses mm, decimal inches or inches as fractions; for a table, the table's own unit
                               is used, and fraction prints inches as fractions
More for a sheet
  --owner, --creator, --approver, --revision TEXT
                               for the title block, also of a review; with --run also --number and --title
  --tolerances 1,0.5,1,3       ± of straights, angles, rotations and end to end, mm and degrees; - for none
  --released-by NAME --reason TEXT
                               who releases it with findings open, and why; both are printed in its stamp
--out never overwrites an input file. It replaces another existing file only with
  --overwrite
Otherwise lengths are in mm and angles in degrees. JSON has every digit. Text and JSON count bends, straights, legs and
points from 1 at end A.
`
