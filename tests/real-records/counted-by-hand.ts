import type { Collection } from './load.ts'

/** Colonoscopies of one file, as counted in the file itself. */
export interface CountedFile {
  readonly collection: Collection
  readonly name: string
  /** Date of each in Massachusetts, in order. */
  readonly dates: readonly string[]
  /** Who did them: identifier system and value; absent where the record names no person. */
  readonly operator?: string
}

/**
 * Counted with jq, and by reading, from the files alone. Procedures with a colonoscopy code, each id once:
 *
 *     jq '[.. | objects | select(.resourceType == "Procedure" and any(.code.coding[]?; .code == "73761001")) | .id]
 *         | [length, (unique | length)]' file.json
 *
 * gives length and distinct ids alike for all but jaime-marquez (8, 4) and cda-example (2, 1), whose document lies in the
 * transaction as a Bundle of its own. Dates are the written starts taken to Massachusetts by hand: 02:28 UTC on 4 April 2013 is
 * 22:28 on the 3rd there, 01:17 at +03:00 on 19 March 2015 is 18:17 on the 18th; one that starts at 23:56 and ends the next day
 * stays on the day it began. The operator is the identifier of the encounter's participant, as no generated Procedure has a
 * performer: typed PPRF in seven of the generated files, untyped in afhir, lean-davis and jorge-rosado.
 */
export const countedByHand: readonly CountedFile[] = [
  synthea('abram-lemke', ['2015-01-14', '2016-01-09', '2017-05-03'], '9999999889'),
  synthea('afhir', ['2010-12-07', '2012-03-31', '2017-03-30'], '290'),
  synthea('dillon-adams', ['2019-03-31'], '9999999289'),
  // One practitioner in two patients' files: five examinations of one person.
  synthea('felipe-herman', ['2010-06-05', '2015-06-04'], '9999999819'),
  synthea('jorge-rosado', ['2011-08-26', '2016-08-24'], '430'),
  synthea('lean-davis', ['2013-04-03', '2018-04-02'], '340'),
  synthea('luther-streich', ['2012-02-21', '2017-02-19'], '9999999969'),
  synthea('orval-friesen', ['2011-04-24', '2016-04-22', '2017-05-17'], '9999999819'),
  // The practitioner is not in the file: the encounter names him as Practitioner?identifier=…us-npi|9999999559.
  synthea('sample-complete-patient', ['2012-01-26', '2017-01-24'], '9999999559'),
  synthea('terrance-runte', ['2018-08-30'], '9999999799'),
  // Performer Organization: nobody.
  { collection: 'from-cda', name: 'ccd', dates: ['2012-05-12'] },
  // Performer PractitionerRole, whose practitioner has the word "unkown" for an identifier; that is what the record says.
  {
    collection: 'from-cda',
    name: 'cda-example',
    dates: ['2012-05-11'],
    operator: 'http://hl7.org/fhir/sid/us-npi|unkown',
  },
  // No performer, no encounter. Two pairs, 3 and 5 days apart.
  { collection: 'from-cda', name: 'jaime-marquez', dates: ['2015-03-18', '2015-03-21', '2020-03-16', '2020-03-21'] },
  // Performer Organization; the same Procedure identifier as in ccd, of another patient.
  { collection: 'from-cda', name: 'operative-note', dates: ['2012-05-12'] },
]

function synthea(name: string, dates: readonly string[], provider: string): CountedFile {
  return { collection: 'synthea', name, dates, operator: `http://hl7.org/fhir/sid/us-npi|${provider}` }
}
