import { asObjects } from '../fhir/json.ts'
import { accessory } from '../record/accessory.ts'
import type { Colonoscopy } from '../record/colonoscopy.ts'
import { isWord } from '../record/words.ts'
import type { UsedDevice } from './devices.ts'
import type { Examination } from './examinations.ts'
import { isKnownYet } from './known.ts'
import { readMucosalInjury } from './mucosal-injury.ts'
import type { Reading, Told } from './reading.ts'
import { type Statement, settle, stated } from './settle.ts'
import { componentOf, wordOf, yesOrNo } from './told-value.ts'

type Accessory = Pick<Colonoscopy, keyof typeof accessory>
type Attachment = NonNullable<Accessory['attachment']>
type Kind = NonNullable<Accessory['attachmentKind']>
type Outcome = NonNullable<Accessory['attachmentOutcome']>
type Reason = NonNullable<Accessory['attachmentRemovalReason']>

/** What is stated of a distal attachment, fact by fact. */
interface Heard {
  attachment: Statement<Attachment>[] | undefined
  kind: Statement<Kind>[] | undefined
  outcome: Statement<Outcome>[] | undefined
  beforeCaecum: Statement<boolean>[] | undefined
  reason: Statement<Reason>[] | undefined
  reinserted: Statement<boolean>[] | undefined
}

/**
 * Distal attachment by intention (attached before insertion or not) and by what became of it, and injuries of the mucosa. A
 * device merely used says its kind and not when it was attached: that is listed.
 */
export function readAccessory(examination: Examination, devices: readonly UsedDevice[], reading: Reading): Accessory {
  const heard: Heard = {
    attachment: undefined,
    kind: undefined,
    outcome: undefined,
    beforeCaecum: undefined,
    reason: undefined,
    reinserted: undefined,
  }
  const injuries: Told[] = []
  const treatments: Told[] = []
  const hear = (told: Told) => {
    if (told.code.fact === 'mucosal-injury') injuries.push(told)
    else if (told.code.fact === 'mucosal-injury-treated') treatments.push(told)
    else hearAttachment(told, heard, examination, reading)
  }
  for (const told of examination.observations.attachment) {
    const { resource, holder } = told
    if (!isKnownYet(resource, reading.asOf, examination.zone)) continue
    hear(told)
    // Components of a panel come by themselves.
    if (holder !== resource || resource.component === undefined) continue
    for (const component of asObjects(resource.component)) {
      const code = reading.codes.of(component.code)
      if (code.fact !== undefined || code.sets.size > 0) hear(componentOf(told, component, code))
      else reading.survey?.missed('Observation.component.code', component.code, examination.patient)
    }
  }
  for (const device of devices) hearDevice(device, heard, examination)
  const injury = readMucosalInjury(injuries, treatments, examination, reading)
  const attachment = attachmentOf(heard, examination)
  const outcome = attachment === 'none' ? undefined : settle('attachmentOutcome', heard.outcome, examination)
  if (heard.kind !== undefined && heard.attachment === undefined)
    for (const { told } of heard.kind)
      examination.trail?.doubt('device used, time of attachment not stated', told.resource)
  return {
    attachment,
    attachmentKind: attachment === 'none' ? undefined : settle('attachmentKind', heard.kind, examination),
    attachmentOutcome: outcome,
    attachmentRemovedBeforeCaecum: removedBefore(attachment, outcome, heard, examination),
    attachmentRemovalReason: settle('attachmentRemovalReason', heard.reason, examination),
    attachmentReinserted: settle('attachmentReinserted', heard.reinserted, examination),
    mucosalInjury: injury.mucosalInjury,
    mucosalInjurySite: injury.mucosalInjurySite,
    mucosalInjuryTreated: injury.mucosalInjuryTreated,
  }
}

function hearAttachment(told: Told, heard: Heard, examination: Examination, reading: Reading): void {
  const { fact } = told.code
  const word = <Word extends string>(field: keyof Accessory, words: readonly Word[]) =>
    wordOf(field, told, words, examination, reading)
  const answer = (field: keyof Accessory) => yesOrNo(field, told, examination, reading)
  if (fact === 'distal-attachment')
    heard.attachment = stated(heard.attachment, word('attachment', accessory.attachment.values), told)
  else if (fact === 'attachment-outcome')
    heard.outcome = stated(heard.outcome, word('attachmentOutcome', accessory.attachmentOutcome.values), told)
  else if (fact === 'attachment-removal-reason')
    heard.reason = stated(heard.reason, word('attachmentRemovalReason', accessory.attachmentRemovalReason.values), told)
  else if (fact === 'attachment-removed-before-caecum')
    heard.beforeCaecum = stated(heard.beforeCaecum, answer('attachmentRemovedBeforeCaecum'), told)
  else if (fact === 'attachment-reinserted')
    heard.reinserted = stated(heard.reinserted, answer('attachmentReinserted'), told)
  else reading.survey?.missed('Observation.component.code (attachment)', told.holder.code, examination.patient)
}

/** Actions that only a distal attachment knows, so that they tell even of a device whose type does not. */
const ofAttachments: ReadonlySet<string | undefined> = new Set(['before-insertion', 'added-later', 'detached'])

function hearDevice(device: UsedDevice, heard: Heard, { trail }: Examination): void {
  const { told, element } = device
  const { code: kind, resource } = told
  const isAttachment = isWord(kind.fact, accessory.attachmentKind.values)
  if (isAttachment) heard.kind = stated(heard.kind, kind.fact as Kind, told, element)
  const action = device.action?.fact
  if (action === undefined) return
  const mayBe = isAttachment || (kind.fact === undefined && kind.words.size === 0 && ofAttachments.has(action))
  const elementOfAction = 'Procedure.focalDevice.action'
  if (!mayBe) {
    if (kind.fact === undefined && action === 'removed')
      trail?.cannotRead('attachmentOutcome', resource, elementOfAction)
    return
  }
  if (action === 'before-insertion' || action === 'added-later')
    heard.attachment = stated(heard.attachment, action, told, elementOfAction)
  else if (action === 'removed' || action === 'detached')
    heard.outcome = stated(heard.outcome, action, told, elementOfAction)
}

/**
 * When it was attached. Attached before insertion, taken off or lost, and added again is attached before insertion: the first
 * decides. None stated with one used, or with an outcome, is a contradiction: not recorded.
 */
function attachmentOf(heard: Heard, examination: Examination): Attachment | undefined {
  const { attachment, outcome, kind, reinserted } = heard
  const isAddedAgain =
    attachment?.some(({ value }) => value === 'added-later') &&
    (outcome?.some(({ value }) => value !== 'kept') || reinserted?.some(({ value }) => value))
  const first = isAddedAgain ? attachment?.filter(({ value }) => value === 'before-insertion') : undefined
  const settled = settle('attachment', first !== undefined && first.length > 0 ? first : attachment, examination)
  if (settled !== 'none' || (outcome === undefined && kind === undefined)) return settled
  const used = [...(outcome ?? []), ...(kind ?? [])].map(({ told }) => told.resource)
  examination.trail?.contradict('no attachment stated, but one used', ...used)
  return undefined
}

/** What was kept on, lost, or never there was not taken off before the caecum; a component that says so contradicts it. */
function removedBefore(
  attachment: Attachment | undefined,
  outcome: Outcome | undefined,
  { beforeCaecum, outcome: told }: Heard,
  examination: Examination,
): boolean | undefined {
  const said = settle('attachmentRemovedBeforeCaecum', beforeCaecum, examination)
  const isOn = outcome === 'kept' || outcome === 'detached' || attachment === 'none'
  if (!isOn) return said
  const { trail } = examination
  if (said === true) {
    trail?.contradict(
      'two different values of one measurement',
      ...(beforeCaecum ?? []).map((one) => one.told.resource),
    )
    return undefined
  }
  if (said === undefined)
    trail?.note(
      'attachmentRemovedBeforeCaecum',
      told?.[0]?.told.resource,
      'inferred from the findings',
      'Observation.value[x]',
    )
  return false
}
