import type { MeasureDefinition } from '../measures/measure.ts'

/** Measures by the topic that their JSON states, topics in the order of their names. */
export function measuresByTopic(
  measures: readonly MeasureDefinition[],
): [topic: string, measures: MeasureDefinition[]][] {
  return [...Map.groupBy(measures, topicOf)].sort(([one], [other]) => (one < other ? -1 : 1))
}

const topicOf = ({ resource }: MeasureDefinition): string => resource.topic?.[0]?.text ?? 'Without a topic'
