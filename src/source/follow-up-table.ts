import type { Place } from './collected.ts'
import type { Spared } from './spared.ts'

/** A reading of everything that points at the examinations, their encounters or their patients. */
export interface FollowUp {
  readonly resourceType: string
  readonly parameter: string
  /** Type of the resources whose ids are listed in the parameter. */
  readonly of: 'Procedure' | 'Encounter' | 'Patient' | 'ServiceRequest'
  /** Element that holds the reference, to check what came. */
  readonly element: string
  /** Date parameter by which records from before the window, or from long after it, are left aside, and its elements. */
  readonly dated?: { readonly parameter: string; readonly elements: readonly string[]; readonly days?: number }
  /** Only with one of the codes of earlier operations. */
  readonly earlier?: true
  /** Hardly anything names such a target: a store that ignores the filter, which sends everything it has, is read no further. */
  readonly rare?: true
  readonly place?: Place
  readonly rowsPerPage?: number
  readonly spared?: Spared
}

/** Days after an examination within which a visit to hospital counts as one after it. */
const visitDays = 30

export const followUps: readonly FollowUp[] = [
  { resourceType: 'Procedure', parameter: 'part-of', of: 'Procedure', element: 'partOf' },
  { resourceType: 'Procedure', parameter: 'encounter', of: 'Encounter', element: 'encounter' },
  { resourceType: 'Observation', parameter: 'part-of', of: 'Procedure', element: 'partOf' },
  { resourceType: 'Observation', parameter: 'encounter', of: 'Encounter', element: 'encounter' },
  {
    resourceType: 'Observation',
    parameter: 'based-on',
    of: 'ServiceRequest',
    element: 'basedOn',
    rare: true,
    spared: 'polyps',
  },
  { resourceType: 'DiagnosticReport', parameter: 'encounter', of: 'Encounter', element: 'encounter' },
  // Twice, as a report may carry either date alone and a search by one passes over the other.
  {
    resourceType: 'DiagnosticReport',
    parameter: 'patient',
    of: 'Patient',
    element: 'subject',
    dated: { parameter: 'date', elements: ['effectiveDateTime', 'effectivePeriod'] },
  },
  {
    resourceType: 'DiagnosticReport',
    parameter: 'patient',
    of: 'Patient',
    element: 'subject',
    dated: { parameter: 'issued', elements: ['issued'] },
  },
  { resourceType: 'Specimen', parameter: 'patient', of: 'Patient', element: 'subject' },
  { resourceType: 'Condition', parameter: 'patient', of: 'Patient', element: 'subject' },
  { resourceType: 'AdverseEvent', parameter: 'subject', of: 'Patient', element: 'subject' },
  // Operations and colonoscopies of any time before; not followed, as neither their reports nor their people belong to the examination.
  {
    resourceType: 'Procedure',
    parameter: 'patient',
    of: 'Patient',
    element: 'subject',
    earlier: true,
    place: 'beside',
  },
  // The examinations' own encounters come with them and are followed once an examination names them.
  {
    resourceType: 'Encounter',
    parameter: 'patient',
    of: 'Patient',
    element: 'subject',
    dated: { parameter: 'date', elements: ['period'], days: visitDays },
    place: 'beside',
  },
  // Few at a time: some stores write the pictures themselves into them, and a page of those is held until it is read.
  {
    resourceType: 'Media',
    parameter: 'encounter',
    of: 'Encounter',
    element: 'encounter',
    rowsPerPage: 20,
    spared: 'photographs',
  },
  // Advice may stand in an order; the reasons of orders that no examination is based on are not wanted.
  {
    resourceType: 'ServiceRequest',
    parameter: 'encounter',
    of: 'Encounter',
    element: 'encounter',
    place: 'beside',
    spared: 'whatever is declared',
  },
]
