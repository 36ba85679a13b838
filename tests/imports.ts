import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'

/** One import of a source file. */
export interface Import {
  /** File that imports, as a path below `src/`. */
  readonly from: string
  /** File below `src/` (`../` leads out of it), or the name of a package. */
  readonly to: string
  /** Written `import type`: nothing of it is left when the code runs. */
  readonly typeOnly: boolean
}

/** Every import, re-export and dynamic import of every file under `src/`. */
export function allImports(): Import[] {
  return sourceFiles().flatMap((from) => importsOf(from, readFileSync(join('src', from), 'utf8')))
}

/** Every TypeScript file under `src/`, as a path below it. */
export const sourceFiles = (): string[] =>
  readdirSync('src', { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => name.replaceAll('\\', '/'))
    .sort()

/** @param text the file's source */
export function importsOf(from: string, text: string): Import[] {
  const statement = /^(?:import|export)\s+(type\s)?(?:[\w\s{},*]*?\sfrom\s+)?['"]([^'"]+)['"]/gm
  const dynamic = /\bimport\(\s*['"]([^'"]+)['"]/g
  const found = [...text.matchAll(statement)].map(([, type, target]) => ({ target, typeOnly: type !== undefined }))
  const later = [...text.matchAll(dynamic)].map(([, target]) => ({ target, typeOnly: false }))
  return [...found, ...later].map(({ target = '', typeOnly }) => ({
    from,
    to: target.startsWith('.') ? join(dirname(from), target) : target,
    typeOnly,
  }))
}

/** Files below `src/` that are left when a file runs: itself, what it imports, and so on. */
export function reachableFrom(entry: string, imports: readonly Import[]): Set<string> {
  const reached = new Set([entry])
  for (const file of reached)
    for (const { from, to, typeOnly } of imports) if (from === file && !typeOnly) reached.add(to)
  return reached
}

/** A chain of files that leads back to where it began, type imports included; undefined where there is none. */
export function cycleIn(imports: readonly Import[]): string[] | undefined {
  const targets = Map.groupBy(imports, ({ from }) => from)
  const done = new Set<string>()
  const follow = (file: string, path: readonly string[]): string[] | undefined => {
    if (path.includes(file)) return [...path.slice(path.indexOf(file)), file]
    if (done.has(file)) return undefined
    for (const { to } of targets.get(file) ?? []) {
      const cycle = follow(to, [...path, file])
      if (cycle) return cycle
    }
    done.add(file)
    return undefined
  }
  for (const file of targets.keys()) {
    const cycle = follow(file, [])
    if (cycle) return cycle
  }
  return undefined
}
