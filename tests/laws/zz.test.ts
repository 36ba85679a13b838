import { it } from 'vitest'
import { demoServer } from '/work/main/tests/demo/pull-demo.ts'
import { reportsOf, unitMonth } from '/work/main/tests/laws/unit-month.ts'
it('x', async () => {
  let t=performance.now(); const tick=(s:string)=>{console.log(s, Math.round(performance.now()-t)); t=performance.now()}
  const r = unitMonth(); tick('gen '+r.length)
  const s = demoServer(r); tick('server')
  const a = await reportsOf(s); tick('report')
  await reportsOf(s); tick('report2')
  await reportsOf(demoServer(r,{pageSize:7})); tick('page7')
  await reportsOf(s, Array.from({length:30},(_,i)=>{const d='2026-06-'+String(i+1).padStart(2,'0');return {start:d,end:d}})); tick('days')
  for (const x of a) console.log(x.measure, x.text?.div.replace(/<[^>]+>/g,' ').slice(0,900))
})
