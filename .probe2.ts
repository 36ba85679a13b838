import { readFileSync } from 'node:fs'
import { compile } from './src/criteria/compile.ts'
import { variedRecords } from './tests/criteria/varied-records.ts'
import { fields } from './src/linkage/fields.ts'
const { measures } = JSON.parse(readFileSync('build/definitions.json', 'utf8'))
const criteria = measures.flatMap((m: any) => Object.values(m.criteria)) as any[]
const cs = criteria.map((c) => compile(c.ast))
const base = variedRecords(2000, 3)
const names = Object.keys(fields)
class Rec { constructor() { for (const n of names) (this as any)[n] = undefined } }
const template: any = Object.fromEntries(names.map((n) => [n, undefined]))
const variants: Record<string, any[]> = {
  fixedSpread: base.map((r) => ({ ...template, ...r })),
  cls: base.map((r) => Object.assign(new Rec(), r)),
  viaJsonTemplate: base.map((r) => Object.assign({ ...template }, r)),
}
for (const [k, recs] of Object.entries(variants)) {
    let best = 1e9, n = 0
    for (let rep = 0; rep < 25; rep++) {
      const t = performance.now()
      for (const r of recs) for (const c of cs) { if (c(r) !== undefined) n++ }
      best = Math.min(best, performance.now() - t)
    }
    console.log(k, (best * 1e6 / (recs.length * cs.length)).toFixed(1), 'ns per answer')
}
const r0=variants.fixedSpread
const out = criteria.map((c, i) => { let best = 1e9; for (let rep = 0; rep < 30; rep++) { const t = performance.now(); for (const r of r0) cs[i](r); best = Math.min(best, performance.now() - t) } return [(best * 1e6 / r0.length).toFixed(0), c.expression] })
for (const [ns, e] of out) console.log(ns, e)
