import type { Source } from '../../src/config.ts'
import { feedKinds } from '../../src/record/field.ts'

/** The invented unit of the stories: it feeds every kind of fact completely. */
export const northmoor: Source = {
  id: 'northmoor',
  baseUrl: 'https://fhir.northmoor.example/fhir',
  zone: 'Europe/London',
  units: [],
  completeFeeds: [...feedKinds],
  pathologyLagDays: 60,
  eventLagDays: 0,
  eventsKnownBy: 'own-hospital',
  conceptMaps: [],
}
