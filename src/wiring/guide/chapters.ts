import { factSystem } from '../../fhir/canonical.ts'
import { rungs } from '../../linkage/rungs.ts'
import { feedKinds } from '../../record/field.ts'
import { whatItIs } from '../to-do.ts'
import { localMap } from './examples/local-code.ts'
import { licences } from './licences.ts'
import { rungMeanings, settingMeanings } from './meanings.ts'

/** A general part of the guide: sentences, terms with their meaning, and at most one piece of JSON. */
export interface Chapter {
  readonly id: string
  readonly title: string
  readonly sentences: readonly string[]
  readonly terms?: readonly { readonly term: string; readonly text: string }[]
  readonly json?: { readonly caption: string; readonly value: object }
}

/** The general parts, in the order in which somebody who wires a store needs them. */
export const chapters: readonly Chapter[] = [
  {
    id: 'what-is-read',
    title: 'What is read',
    sentences: [
      'The service reads FHIR R4 resources and makes one flat record of facts for each colonoscopy. This guide lists every fact with the ways in which it may come, the strongest first, and one example.',
      'What is not sent stays not recorded: it is counted and shown, and never taken for a no.',
      'The wiring report at /wiring shows over your own records which facts came, by which way, and what matched nothing.',
    ],
  },
  {
    id: 'linking',
    title: 'How resources find their examination',
    sentences: [
      'The first rung of this ladder that leads to an examination decides. Of several examinations that fit, the one during which a thing happened is meant, else the only one of that very day; where that leaves several, the resource is given to none, counted as ambiguous, and silence about what it tells means nothing in any of them.',
      'An order or an encounter may last for weeks: what is dated belongs by it only to an examination on whose days it falls (pathology: or within its lag).',
      'Patient and day decide only where no other encounter is named: what names an encounter that is known, and neither the examination’s nor part of it, is of another stay. A pathology laboratory may have an encounter of its own: there the day of collection decides.',
      'A partOf is taken at its word: an observation, drug, picture or sub-procedure that is part of another procedure belongs to no colonoscopy. Where partOf leads to nothing that is known, the other rungs decide.',
      'Two Procedure resources of one patient and day are one examination where they share an identifier, begin together, overlap, or one of them has no time of day. Merged patients (Patient.link) are one patient.',
      'Of two statements that differ a final one stands against a preliminary one, and a later one (issued, else effective) against an earlier one; what that leaves undecided is not recorded. Either way the contradiction is listed.',
    ],
    terms: rungs.map((rung) => ({ term: rung, text: rungMeanings[rung] })),
  },
  {
    id: 'absence',
    title: 'What absence means',
    sentences: [
      'Silence means none only for the kinds of fact that the source declares complete (completeFeeds in SOURCES, FEEDS for a single source). Undeclared, the fact is not recorded.',
      'While the examination’s own report is preliminary, silence on what it would tell means nothing yet.',
      'Histology that has not come is pending for the source’s pathologyLagDays after the examination, and missing after that.',
    ],
    terms: feedKinds.map((kind) => ({ term: kind, text: `Complete means: ${whatItIs[kind]}.` })),
  },
  {
    id: 'codes',
    title: 'Codes, and how to add your own',
    sentences: [
      'A code is known by its system and code, exactly; displays and texts never decide. Spellings of one system (with urn:oid:, http or https, a slash at its end) are one.',
      `Where no international code exists there is one of ours, in the system ${factSystem}. Codes that are marked third-party were read in somebody else’s list: check them before you rely on them.`,
      'To have your own codes understood, add a ConceptMap to the source’s conceptMaps. Your code then means whatever its target means, in every element of this guide; an equivalence of unmatched or disjoint says that it does not. A target that is not known here is refused when the service starts to read.',
    ],
    json: { caption: 'A ConceptMap that makes a local code for withdrawal time understood', value: localMap },
  },
  {
    id: 'units',
    title: 'Units, bounds and scores',
    sentences: [
      'Quantities carry UCUM codes: min, s, h for times; mm, cm for sizes; ug, mg, g for doses; mo, a, wk, d for intervals. Where there is no code, the unit in words serves. A bare integer is in the unit of the field; a text must be a number with its unit.',
      'A comparator (<5 mm) or a Range is a bound. It fills the fields that hold bounds, and is never taken for a value.',
      'A score is a whole number without a unit, within its scale. Numbers are kept to three decimals.',
      'A value that stands where a fact is expected and cannot be read is listed in the wiring report; the fact is then not recorded.',
    ],
  },
  {
    id: 'dates',
    title: 'Dates',
    sentences: [
      'Send times with their offset. The date of an examination is that of its start, in the time zone of its unit, else of the source.',
      'A month or a year is an interval: such an examination counts in a period that holds the whole of it, and is else left out and listed. A condition so dated was there before the examination only if the whole interval lies before it.',
      'What became known after the instant as of which records are read (issued, recordedDate, authoredOn, else effective) is not known yet.',
    ],
  },
  {
    id: 'text',
    title: 'Free text',
    sentences: [
      'Free text is read only where the source says so (readsText), and only in English: the text of a reason, for a lesion known before, and the conclusion or the attached text of a final pathology report without a coded class.',
      'A fact from text is marked as such, and histology from text is reported apart.',
    ],
  },
  {
    id: 'never',
    title: 'What never counts',
    sentences: [
      'Resources entered in error, cancelled or not done; a colonoscopy that is not completed or stopped; one whose scope was never inserted.',
      'Orders, plans and claims as examinations: a ServiceRequest tells of reasons and of the next examination only.',
      'A histology class predicted at endoscopy, as histology; a lesion seen again, as a new one; a biopsy of the upper tract of the same day.',
      'A condition that was refuted; an adverse event that was only potential; bleeding on the day itself that is said not to be serious.',
    ],
  },
  {
    id: 'settings',
    title: 'Settings of a source',
    sentences: [
      'SOURCES is a JSON list of sources with these properties. For a single source the variables in the README serve.',
    ],
    terms: Object.entries(settingMeanings).map(([term, text]) => ({ term, text })),
  },
  { id: 'licences', title: 'Licences of the codes', sentences: [], terms: licences },
]
