import type { Field } from './field.ts'
import { attempts, bowelSites } from './words.ts'

export const course = {
  report: {
    type: 'code',
    values: ['preliminary', 'final'],
    short: 'State of the examination’s own report; preliminary means that nothing the report says is settled yet.',
    filledBy:
      'Status of the report in Procedure.report, or of a colonoscopy report of the same encounter. Absent where no such report is found.',
  },
  completion: {
    type: 'code',
    values: ['completed', 'stopped'],
    short: 'Whether the examination was carried through.',
    filledBy: 'Procedure.status; evidence of extent outranks it.',
  },
  stopReason: {
    type: 'code',
    values: [
      'inadequate-preparation',
      'discomfort',
      'looping',
      'impassable-stricture',
      'obstructing-lesion',
      'severe-inflammation',
      'sedation',
      'equipment',
      'other',
    ],
    short: 'Why it was stopped.',
    filledBy:
      'Procedure.statusReason. Absent where it was completed, no reason we know is coded, or two resources give different ones.',
  },
  extent: {
    type: 'code',
    values: bowelSites,
    short: 'Deepest point reached.',
    filledBy:
      'Extent observation (a final one before a preliminary one), or a photograph of caecum, appendix orifice, ileocaecal valve, ileum or anastomosis; the deeper one, an anastomosis only where no other is known. Absent where neither is found.',
  },
  extentEvidence: {
    type: 'code',
    values: ['photograph', 'stated'],
    short: 'What the extent rests on: a photograph of a landmark, or a statement alone.',
    filledBy: 'The resources that fill the extent. Absent without an extent.',
  },
  caecumReached: {
    type: 'boolean',
    short: 'Caecum, ileum or, after resection, the anastomosis reached.',
    filledBy:
      'Extent; photographs of a caecal landmark. A stopped examination without any of these did not reach it. Absent for a completed one without any, or with an anastomosis beside an extent short of the caecum, and where an extent stated cannot be read or may be another examination’s.',
  },
  completionPhotographed: {
    type: 'boolean',
    feed: 'photographs',
    short:
      'Whether a photograph of appendix orifice, ileocaecal valve, caecum, ileum or anastomosis is in the record. It is a fact about the record: where none is found, it is false.',
    filledBy:
      'Landmark photograph observations, or Media of a landmark. False when none is found. Absent where none is found and a photograph’s landmark cannot be read, or a photograph may be another examination’s.',
  },
  landmarkPhotographCount: {
    type: 'integer',
    feed: 'photographs',
    short: 'Number of different landmarks photographed.',
    filledBy:
      'Landmark photograph observations; 0 only in a complete feed of photographs. Absent while the examination’s report is open, or a landmark cannot be read, or a photograph may be another examination’s.',
  },
  impassableStricture: {
    type: 'boolean',
    short: 'A stricture or obstructing lesion that the instrument could not pass stopped the examination.',
    filledBy:
      'Procedure.statusReason. False when completed or stopped for another stated reason. Absent when stopped for no stated reason.',
  },
  ileum: {
    type: 'code',
    values: attempts,
    short: 'Whether the terminal ileum was not attempted, attempted without success, or entered.',
    filledBy:
      'Observation of ileal intubation; an extent or a photograph of the ileum means done. Absent otherwise, and where these contradict each other.',
  },
  retroflexion: {
    type: 'code',
    values: attempts,
    short: 'Whether retroflexion in the rectum was not attempted, attempted without success, or done.',
    filledBy:
      'Observation of retroflexion; a procedure code that itself says so means done. Absent otherwise, and where these contradict each other.',
  },
  insertionMinutes: {
    type: 'decimal',
    unit: 'min',
    short: 'Minutes from first insertion to the caecum.',
    filledBy:
      'Insertion time observation; never the length of the procedure. Absent where none is found, it is zero, a bound or a range, cannot be read, or two differ.',
  },
  withdrawalMinutes: {
    type: 'decimal',
    unit: 'min',
    short: 'Minutes from leaving the caecum to leaving the anus.',
    filledBy:
      'Withdrawal time observation; never the length of the procedure. Absent where none is found, it is zero, a bound or a range, cannot be read, or two differ.',
  },
  tissueTakenOrTreated: {
    type: 'boolean',
    feed: 'polyps',
    short: 'Anything removed, biopsied, injected or treated.',
    filledBy:
      'Sub-procedures, polyp handling, specimens. False only where the polyp feed is complete and the report not preliminary.',
  },
  tattooPlaced: {
    type: 'boolean',
    feed: 'polyps',
    short: 'At least one tattoo placed.',
    filledBy:
      'Tattoo sub-procedure or the examination’s own code, or a polyp said to be tattooed. False where every polyp says not, or none was found. Absent otherwise.',
  },
  instrument: {
    type: 'code',
    values: ['adult', 'paediatric'],
    short: 'Kind of colonoscope with which the examination began.',
    filledBy:
      'Procedure.usedCode, or the type of a Device in usedReference or focalDevice. Absent where neither says, two kinds were used, or an exchange is stated.',
  },
  instrumentExchanged: {
    type: 'boolean',
    short: 'The colonoscope was changed for another during the examination.',
    filledBy: 'Exchange observation, or two kinds of colonoscope used. Absent where nothing says.',
  },
  insufflation: {
    type: 'code',
    values: ['air', 'carbon-dioxide', 'water'],
    short: 'What distended the bowel during insertion.',
    filledBy: 'Insufflation observation. Absent where none is found.',
  },
  dye: {
    type: 'boolean',
    short: 'Dye spray over the mucosa.',
    filledBy:
      'Yes/no observation, or what was used: Procedure.usedCode, or the type of a Device. Absent where nothing says.',
  },
  computerAidedDetection: {
    type: 'boolean',
    short: 'Computer-aided detection of polyps was on.',
    filledBy:
      'Yes/no observation, or what was used: Procedure.usedCode, or the type of a Device. Absent where nothing says.',
  },
} as const satisfies Record<string, Field>
