import type { TextFinding } from '../../../src/linkage/text/text-findings.ts'

/** What a label expects of a text, and where the reader differs. */
export interface Difference {
  readonly missed: readonly string[]
  readonly falseAlarms: readonly string[]
}

/** Findings expected and not found, and found and not expected, each as one line; a finding with a wrong detail is both. */
export function differences(
  expected: { readonly findings: readonly TextFinding[]; readonly unread: boolean },
  found: { readonly findings: readonly TextFinding[]; readonly unread: boolean },
): Difference {
  const wanted = [...expected.findings.map(asLine), expected.unread ? 'unread' : 'read'].sort()
  const got = [...found.findings.map(asLine), found.unread ? 'unread' : 'read'].sort()
  return { missed: without(wanted, got), falseAlarms: without(got, wanted) }
}

function asLine(finding: TextFinding): string {
  return Object.entries(finding)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([name, value]) => `${name}: ${String(value)}`)
    .join(', ')
}

function without(lines: readonly string[], others: readonly string[]): string[] {
  const left = [...others]
  return lines.filter((line) => {
    const at = left.indexOf(line)
    if (at >= 0) left.splice(at, 1)
    return at < 0
  })
}
