import type { UnitId } from '../region.ts'

/** How often a unit records what, in parts of 10,000. */
export interface Habits {
  readonly takeover: number
  readonly anaesthetistLed: number
  readonly ileum: number
  readonly retroflexion: number
  readonly insufflation: number
  readonly instrument: number
  readonly comfortScorer: number
  readonly attachmentOutcome: number
  readonly shape: number
  readonly tool: number
  readonly resection: number
  readonly dysplasia: number
  readonly advice: number
}

/** One unit codes nearly everything, one has local codes for it, and one leaves much out. */
export const habits: Readonly<Record<UnitId, Habits>> = {
  ellenby: {
    takeover: 9600,
    anaesthetistLed: 10_000,
    ileum: 9200,
    retroflexion: 9100,
    insufflation: 9300,
    instrument: 9500,
    comfortScorer: 9000,
    attachmentOutcome: 9500,
    shape: 9600,
    tool: 9600,
    resection: 9000,
    dysplasia: 9200,
    advice: 8600,
  },
  tarnhollow: {
    takeover: 6000,
    anaesthetistLed: 8500,
    ileum: 4200,
    retroflexion: 5500,
    insufflation: 3000,
    instrument: 6500,
    comfortScorer: 6000,
    attachmentOutcome: 8000,
    shape: 4000,
    tool: 7500,
    resection: 1500,
    dysplasia: 9500,
    advice: 5500,
  },
  quernford: {
    takeover: 0,
    anaesthetistLed: 10_000,
    ileum: 7200,
    retroflexion: 7600,
    insufflation: 6500,
    instrument: 8800,
    comfortScorer: 4500,
    attachmentOutcome: 6500,
    shape: 6500,
    tool: 7000,
    resection: 5000,
    dysplasia: 6000,
    advice: 7000,
  },
}
