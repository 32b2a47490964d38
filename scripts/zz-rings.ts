import { readPhoto } from '#adapters/photo/read-photo'
import { ringCandidates } from '#core/detect/sheet/ring-candidates'
import { refineTarget } from '#core/detect/sheet/refine-target'
import { readTarget } from '#core/detect/sheet/read-target'
import { workingFactor } from '#core/detect/plane'
for (const f of process.argv.slice(2)) {
  const r: any = await readPhoto(f)
  const raster = r.raster ?? r
  const factor = Math.max(raster.width, raster.height) > 1400 ? 2 * workingFactor(raster) : 1
  for (let k=0;k<2;k++){
  const t0 = performance.now()
  const c = ringCandidates(raster, factor)
  const t1 = performance.now()
  const o = c.map((x) => refineTarget(raster, x))
  const t2 = performance.now()
  const t = o.map((x) => x && readTarget(raster, x))
  console.log(f.split('/').pop(), factor, c.length, o.filter(Boolean).length, t.filter(Boolean).length, (t1 - t0).toFixed(0), (t2 - t1).toFixed(0), (performance.now() - t2).toFixed(0))
  if(k===0) console.log(c.map((e)=>Math.sqrt(Math.abs(e.axes[0]*e.axes[3]-e.axes[1]*e.axes[2])).toFixed(0)).join(' '))
  }
}
