import { readFileSync } from 'node:fs'
import { compile } from './src/criteria/compile.ts'
import fhirpath from 'fhirpath'
import { variedRecords } from './tests/criteria/varied-records.ts'
import { fields } from './src/linkage/fields.ts'
const { measures } = JSON.parse(readFileSync('build/definitions.json', 'utf8'))
const criteria = measures.flatMap((m: any) => Object.values(m.criteria)) as any[]
const cs = criteria.map((c) => compile(c.ast))
const base = variedRecords(2000, 3)
const names = Object.keys(fields)
const variants: Record<string, any[]> = {
  fromEntries: base,
  assigned: base.map((r) => { const o: any = {}; for (const n of names) if ((r as any)[n] !== undefined) o[n] = (r as any)[n]; return o }),
  json: base.map((r) => JSON.parse(JSON.stringify(r))),
  fixed: base.map((r) => { const o: any = {}; for (const n of names) o[n] = (r as any)[n]; return o }),
}
for (const [k, recs] of Object.entries(variants)) {
  for (const order of ['criteria outer', 'records outer']) {
    let best = 1e9, n = 0
    for (let rep = 0; rep < 15; rep++) {
      const t = performance.now()
      if (order === 'criteria outer') for (const c of cs) for (const r of recs) { if (c(r) !== undefined) n++ }
      else for (const r of recs) for (const c of cs) { if (c(r) !== undefined) n++ }
      best = Math.min(best, performance.now() - t)
    }
    console.log(k, order, (best * 1e6 / (recs.length * cs.length)).toFixed(1), 'ns per answer')
  }
}
const ps = criteria.map((c) => fhirpath.compile(c.expression))
for (const [k, recs] of Object.entries(variants)) {let best=1e9; for (let rep=0;rep<3;rep++){const t=performance.now(); for (const r of recs) for (const p of ps) p(r); best=Math.min(best,performance.now()-t)} console.log(k,'package', (best*1e6/(recs.length*ps.length)).toFixed(0))}
