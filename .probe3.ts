import { variedRecords } from './tests/criteria/varied-records.ts'
import { fields } from './src/linkage/fields.ts'
const base = variedRecords(2000, 3)
const names = Object.keys(fields)
const template: any = Object.fromEntries(names.map((n) => [n, undefined]))
const variants: Record<string, any[]> = { fixed: base.map((r) => ({ ...template, ...r })), varied: base }
const used = ['age','sex','adenomaFound','caecumReached','bleeding','bleedingDay','perforation','referralReason','setting','intent','polypRemoved','withdrawalMinutes','adenomaCount']
const keyed = (name: string) => (r: any) => r[name]
const kinds: Record<string, ((r: any) => any)[]> = {
  keyed: used.map(keyed),
  named: used.map((n) => new Function('r', `return r.${n}`) as any),
}
for (const [v, recs] of Object.entries(variants)) for (const [k, fs] of Object.entries(kinds)) {
  let best = 1e9, n = 0
  for (let rep = 0; rep < 40; rep++) { const t = performance.now(); for (const r of recs) for (const f of fs) if (f(r) !== undefined) n++; best = Math.min(best, performance.now() - t) }
  console.log(v, k, (best * 1e6 / recs.length / fs.length).toFixed(1))
}
