import type { TruthRow } from '../truth-row.ts'
import { allOf, anyOf, type Definition, type Definitions, type Fact, opposite } from './definition.ts'
import { reasonIn, removedPolyp } from './row-facts.ts'

type Who = Definition['eligible']

const everyone: Who = () => []
const wherePolypsWereRemoved: Who = (row) => [removedPolyp(row)]
const screened: Who = (row) => [reasonIn('screening')(row)]
const afterPositiveTest: Who = (row) => [reasonIn('positive-screening-test')(row)]
const screenedAtAll: Who = (row) => [reasonIn('screening', 'positive-screening-test')(row)]
const whereTheProgrammeRemovedPolyps: Who = (row) => [...afterPositiveTest(row), removedPolyp(row)]

/** What nobody reports has not happened, for every event reaches the demo; the last day counts, the day after it does not. */
const byDay = (day: number | undefined, last: number): boolean => day !== undefined && day <= last

const perforated = (eligible: Who, last: number): Definition => ({
  eligible,
  met: ({ perforationDay }) => byDay(perforationDay, last),
})
const bled = (eligible: Who, last: number): Definition => ({
  eligible,
  met: ({ bleedingDay }) => byDay(bleedingDay, last),
})
/** Worse than mild; a bleeding within these days whose severity nobody stated may have been either. */
const bledMore = (last: number): Definition => ({
  eligible: wherePolypsWereRemoved,
  met: ({ bleedingDay, bleedingSeverity: severity }) =>
    allOf(byDay(bleedingDay, last), severity === undefined ? undefined : severity !== 'mild'),
})

const heartOrLungs = (eligible: Who): Definition => ({
  eligible,
  met: ({ cardiopulmonaryEvent: event, cardiopulmonaryEventDay: day }) =>
    allOf(event, day === undefined ? undefined : day <= 1),
})

const outpatient = ({ setting }: TruthRow): Fact => (setting === undefined ? undefined : setting === 'outpatient')

/** One unplanned visit in time is enough; none is known only where every visit is, and each was planned or too late. */
const cameBack = ({ visits }: TruthRow): Fact =>
  visits === undefined ? undefined : anyOf(...visits.map(({ day, planned }) => allOf(opposite(planned), day <= 7)))

/** A list of cases of the unit, of any cause; one without a date may have come later. */
const died = (where: (row: TruthRow) => Fact): Definition => ({
  eligible: (row) => [where(row), row.death, row.deathDay === undefined ? undefined : row.deathDay <= 30],
  persons: () => [],
})

/** Measures of harm, by hand from the published definitions. */
export const harmTruth: Definitions = {
  // Windows: 7 days, Ontario 2021; 30 days, Florida.
  'perforation-rate-7-day-descriptive': perforated(everyone, 7),
  'perforation-rate-30-day-descriptive': perforated(everyone, 30),
  'perforation-rate-screening-7-day-descriptive': perforated(screenedAtAll, 7),
  'perforation-rate-screening-30-day-descriptive': perforated(screenedAtAll, 30),
  'perforation-rate-after-polypectomy-7-day-descriptive': perforated(wherePolypsWereRemoved, 7),
  'perforation-rate-after-polypectomy-30-day-descriptive': perforated(wherePolypsWereRemoved, 30),
  'perforation-rate-7-day-uk-screening-programme': perforated(afterPositiveTest, 7),
  'perforation-rate-30-day-uk-screening-programme': perforated(afterPositiveTest, 30),
  // US 2015: all, and below that the examinations that are the screening test.
  'perforation-rate-7-day-us-2015': perforated(everyone, 7),
  'perforation-rate-30-day-us-2015': perforated(everyone, 30),
  'perforation-rate-screening-7-day-us-2015': perforated(screened, 7),
  'perforation-rate-screening-30-day-us-2015': perforated(screened, 30),
  'perforation-rate-7-day-uk-2016': perforated(everyone, 7),
  'perforation-rate-30-day-uk-2016': perforated(everyone, 30),
  'perforation-rate-after-polypectomy-7-day-uk-2016': perforated(wherePolypsWereRemoved, 7),
  'perforation-rate-after-polypectomy-30-day-uk-2016': perforated(wherePolypsWereRemoved, 30),

  // Windows: 14 days, Ontario 2021; 30 days, Florida; 7 days to be read beside perforation.
  'post-polypectomy-bleeding-rate-7-day-descriptive': bled(wherePolypsWereRemoved, 7),
  'post-polypectomy-bleeding-rate-14-day-descriptive': bled(wherePolypsWereRemoved, 14),
  'post-polypectomy-bleeding-rate-30-day-descriptive': bled(wherePolypsWereRemoved, 30),
  'post-polypectomy-bleeding-rate-intermediate-or-worse-7-day-descriptive': bledMore(7),
  'post-polypectomy-bleeding-rate-intermediate-or-worse-14-day-descriptive': bledMore(14),
  'post-polypectomy-bleeding-rate-intermediate-or-worse-30-day-descriptive': bledMore(30),
  'post-polypectomy-bleeding-rate-14-day-uk-screening-programme': bled(whereTheProgrammeRemovedPolyps, 14),
  'post-polypectomy-bleeding-rate-30-day-uk-screening-programme': bled(whereTheProgrammeRemovedPolyps, 30),
  'post-polypectomy-bleeding-rate-14-day-us-2015': bled(wherePolypsWereRemoved, 14),
  'post-polypectomy-bleeding-rate-30-day-us-2015': bled(wherePolypsWereRemoved, 30),
  // UK 2016: intermediate or worse.
  'post-polypectomy-bleeding-rate-intermediate-or-worse-14-day-uk-2016': bledMore(14),
  'post-polypectomy-bleeding-rate-intermediate-or-worse-30-day-uk-2016': bledMore(30),

  'cardiopulmonary-event-rate-1-day-descriptive': heartOrLungs(everyone),
  'cardiopulmonary-event-rate-sedated-1-day-descriptive': heartOrLungs(({ sedated }) => [sedated]),
  'mucosal-injury-rate-descriptive': { eligible: everyone, met: ({ mucosalInjury }) => mucosalInjury },
  // Outpatients, any cause, for the unit alone: as a US government measure has it.
  'unplanned-hospital-visit-rate-7-day-descriptive': {
    eligible: (row) => [outpatient(row)],
    met: cameBack,
    persons: () => [],
  },
  'death-within-30-days-elective-descriptive': died(outpatient),
  'death-within-30-days-emergency-descriptive': died((row) => opposite(outpatient(row))),
}
