import type { FeedKind } from '../record/field.ts'
import type { Proposal } from './feed-findings.ts'

/** What to do about a line of the wiring report, one sentence each, for whoever wires the store. */

export const whatItIs: Readonly<Record<FeedKind, string>> = {
  polyps: 'every polyp that was seen, and every polypectomy and biopsy',
  pathology: 'every specimen and every pathology report',
  history: 'every diagnosis and operation that the questions about history ask for',
  medication: 'every drug given for the examination',
  photographs: 'every landmark photograph',
  events: 'every adverse event, those treated elsewhere included',
  visits: 'every later visit to any hospital',
  deaths: 'every death',
  cancers: 'every colorectal cancer, as a register does',
}

export function toDoForFeed(kind: FeedKind, proposal: Proposal): string {
  const all = whatItIs[kind]
  switch (proposal) {
    case 'declare':
      return `Ask whether this server receives ${all}; if so, add “${kind}” to the source’s complete feeds (FEEDS, or completeFeeds in SOURCES).`
    case 'withdraw':
      return `Nothing of the kind arrives: take “${kind}” out of the complete feeds, or map its codes (see the codes that matched nothing), before any figure that needs it is read.`
    case 'keep declared':
      return `Declared: that the server receives ${all} is taken as your word.`
    case 'keep undeclared':
      return `Leave it undeclared until this server receives ${all}.`
    case 'decide with the department':
      return `No data can show whether this server receives ${all}; ask the department, and declare “${kind}” only then.`
  }
}

export function toDoForField(recorded: number, of: number, unreadable: number): string {
  if (of === 0) return 'Nothing to judge by yet.'
  if (unreadable > 0) return 'Look at the examples that cannot be read, and send the value as the guide shows it.'
  if (recorded === 0)
    return 'Never recorded: see the guide for what fills it, and the codes below that matched nothing; map yours by a ConceptMap, or leave it where you do not record it.'
  return recorded < of ? 'Where it is missing, the measures that need it say “not recorded”.' : 'Nothing to do.'
}

export const toDoForUnmatched = (closest: string | undefined): string =>
  closest === undefined
    ? 'Nothing to do if it has nothing to do with these measures; else add it to a ConceptMap of the source (conceptMaps), with one of the codes of the guide as its target.'
    : `If it means ${closest}, add it to a ConceptMap of the source (conceptMaps) with that code as its target; a resemblance of words decides nothing by itself.`

export const toDoForText = 'A text decides nothing: send a code beside it, and map that code.'

export function toDoForLeftOut(reason: string): string {
  return (
    leftOutToDo[reason] ?? 'Look at the examples; what is left out is in no figure, and is counted in every report.'
  )
}

const leftOutToDo: Readonly<Record<string, string>> = {
  'no date': 'Send performedPeriod or performedDateTime; without a date it belongs to no period.',
  'date coarser than a day': 'Send the day; a month or year counts only in a period that holds the whole of it.',
  'no id': 'Send the id of the resource: without one nothing can refer to it, and it cannot be counted once.',
  'no patient': 'Send subject as a reference to a Patient, or as an identifier.',
  'second resource of one examination':
    'Nothing to do: it was joined with the fuller resource of the same examination.',
  'second resource of one examination, which one undecided':
    'Several examinations of the patient may be meant: send the time of day, or an identifier that both resources have.',
  'link ambiguous':
    'It fits several examinations equally well: refer to the one meant (partOf, report, specimen, order or encounter).',
  'never inserted': 'Nothing to do if the scope was never inserted: no examination took place.',
  'entered in error': 'Nothing to do: the server says that it was entered in error.',
  'not done': 'Nothing to do: the server says that it was not done.',
  'not finished': 'If these were done, their status was never closed: set it to completed or stopped.',
  'status unknown': 'Send a status; of an unknown one nobody can say whether the examination took place.',
  'event attribution undecided':
    'Name the examination that is suspected (AdverseEvent.suspectEntity, or complicationDetail).',
  'event without a usable date': 'Send the day on which it happened.',
  'event of a kind that is not known':
    'Map its code by a ConceptMap of the source: to the kind it means, or to “other” where it is none of these kinds.',
  'event that nobody has confirmed': 'Confirm or refute it (Condition.verificationStatus).',
  'event of another procedure': 'Nothing to do: it names a procedure that is no examination of the large bowel.',
  'event of a procedure that did not come':
    'Let the server deliver the procedure that it names (AdverseEvent.suspectEntity), or name the examination.',
  'bleeding after an examination in which nothing was taken':
    'Nothing to do where nothing was removed, biopsied or treated: then it is none of its events.',
  'event dated before its examination': 'One of the two dates is wrong, or the event names the wrong examination.',
}

export const toDoForDeadEnd = (element: string): string =>
  `Let the server deliver what ${element} refers to, or send the reference as Type/id of this server.`

export const toDoForUnlinked =
  'No examination could be found for these: give them partOf, the encounter, or the order of the examination. Those of other examinations are right to stay.'

export const toDoForMalformed =
  'Nothing of it was read. Send it as FHIR R4 has it: a list as a list, a date as a date, a status by its code, a reference as Type/id of this server.'

export const toDoForContradiction =
  'Two statements of one record cannot both be so. Neither was resolved in silence: look at the examples, and correct the record at its source.'

export const toDoForDoubt = 'It was counted as it stands: look whether it is recorded as you think it is.'

export const toDoForDiffering =
  'One of the two was read. Send meta.versionId or meta.lastUpdated, so that the newer one is known.'

export const toDoForHeaping =
  'So many examinations with one value look like a default or a habit of typing. It was counted as it stands; take the time from the clock.'
