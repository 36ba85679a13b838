import { accessoryAccepted } from './accessory.ts'
import { afterwardsAccepted } from './afterwards.ts'
import { comfortAndSedationAccepted } from './comfort-and-sedation.ts'
import { courseAccepted } from './course.ts'
import { findingsAccepted } from './findings.ts'
import { historyAccepted } from './history.ts'
import { pathologyAccepted } from './pathology.ts'
import { preparationAccepted } from './preparation.ts'
import type { GuideField, Way } from './way.ts'
import { whoAccepted } from './who.ts'
import { whyAccepted } from './why.ts'

/** For every fact of the record the ways in which it may come, the strongest first. A fact without any does not compile. */
export const accepted = {
  ...whoAccepted,
  ...whyAccepted,
  ...historyAccepted,
  ...courseAccepted,
  ...preparationAccepted,
  ...comfortAndSedationAccepted,
  ...accessoryAccepted,
  ...findingsAccepted,
  ...pathologyAccepted,
  ...afterwardsAccepted,
} satisfies Readonly<Record<GuideField, readonly Way[]>>
