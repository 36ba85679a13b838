import { examination, pathology, tubularAdenoma } from '../../tests/stories/examination.ts'
import { northmoor, definitions } from '../../tests/stories/ask.ts'
import { Codes } from '../fhir/codes.ts'
import { windowResources } from '../linkage/window-resources.ts'
import { findExaminations } from '../linkage/examinations.ts'
import { gather } from '../linkage/gather.ts'
import { Ladder } from '../linkage/ladder.ts'
import { patientKeys } from '../linkage/patients.ts'
import { findPolyps } from '../linkage/polyps.ts'
import { readCourse } from '../linkage/course.ts'
import { linkWindow } from '../linkage/link.ts'
const all=[] as any[]
for(let i=0;i<1000;i++){ const d=`2026-03-${String(1+i%28).padStart(2,'0')}`
 all.push(...examination({id:`e${i}`,date:d,withdrawalMinutes:9,polyps:i%2?[{handling:'removed',specimen:`p${i}`,millimetres:5},{handling:'left'}]:[]}))
 if(i%2) all.push(...pathology(`r${i}`,{issued:`2026-04-01T10:00:00Z`,results:[{specimen:`p${i}`,code:tubularAdenoma}]})) }
all.sort((a,b)=>(a.resourceType+'/'+a.id)<(b.resourceType+'/'+b.id)?-1:1)
console.log(all.length)
const text=JSON.stringify(all)
const codes=new Codes(definitions.resources)
const asOf=Date.parse('2027-01-01T00:00:00Z')
const ctx={source:northmoor,codes,window:{start:'2026-03-01',end:'2026-03-31'},asOf}
const T:Record<string,number>={}
const time=(n:string,f:()=>any)=>{const t=performance.now(); const r=f(); T[n]=(T[n]??0)+performance.now()-t; return r}
for(let k=0;k<130;k++){ if(k===30) for(const n in T) T[n]=0
 const r=time('parse',()=>JSON.parse(text)); const w=time('window',()=>windowResources(r)); const {examinations}=time('exams',()=>findExaminations(w,ctx)); const pk=patientKeys(w); const l=time('ladder',()=>new Ladder(examinations)); time('gather',()=>gather(w,l,pk,ctx)); time('polyps',()=>examinations.forEach((e:any)=>findPolyps(e,codes))); time('course',()=>examinations.forEach((e:any)=>readCourse(e,w,codes,true)))
 for(let q=0;q<3;q++) time('link',()=>linkWindow(r,ctx))
}
for(const n in T) console.log(n,(T[n]!/100).toFixed(2))
