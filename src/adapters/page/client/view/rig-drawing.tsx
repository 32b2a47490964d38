const ticks = (from: number, to: number, count: number, inner: number, outer: number): string =>
  Array.from({ length: count }, (_, i) => {
    const angle = ((from + ((to - from) * i) / (count - 1)) * Math.PI) / 180
    const [x, y] = [Math.cos(angle), -Math.sin(angle)]
    return `M${60 + inner * x} ${120 + inner * y}L${60 + outer * x} ${120 + outer * y}`
  }).join('')

const Round = ({ rig }: { readonly rig: string }) => (
  <>
    <circle cx="60" cy="120" r="15" class="body" />
    <circle cx="60" cy="120" r="3" class="pivot" />
    <path d={ticks(8, 62, 9, 94, 106)} class="pen" />
    <path d="M60 120L153 87" class="pointer" />
    <path d={rig === 'chord' ? 'M158 104L153 78' : 'M158 104A100 100 0 0 0 107 32'} class="measure" />
    <text x="100" y="96">R</text>
    <text x="166" y={rig === 'chord' ? 96 : 62}>{rig === 'pointer' ? 'angle' : rig === 'arc' ? 's, along the arc' : 'c, mark to mark'}</text>
  </>
)

const Wall = () => (
  <>
    <path d="M40 96l14 14" class="pointer" />
    <circle cx="47" cy="103" r="3" class="pivot" />
    <path d="M232 12V144" class="wall" />
    <path d="M47 103H232M47 103L232 40" class="beam" />
    <path d="M47 126H232" class="measure" />
    <path d="M240 40V103" class="measure" />
    {[20, 40, 58, 74, 90].map((y) => <path key={y} d={`M224 ${y}h14`} class="pen" />)}
    <text x="130" y="142">D</text>
    <text x="247" y="108">F</text>
    <text x="247" y="76">x</text>
  </>
)

/** What the lengths of a rig mean. */
export const RigDrawing = ({ rig }: { readonly rig: string }) => (
  <svg class="rig-drawing" viewBox="0 0 280 150" role="img" aria-label={rig === 'mirror' ? 'A mirror on the shaft throws a light spot on a wall. D is the distance from the mirror to the wall, F the place on the wall straight opposite the mirror, x the position of a mark.' : `A pointer on the shaft marks the paper. R is the distance from the shaft to the marks; positions are ${rig === 'pointer' ? 'angles about the shaft' : rig === 'arc' ? 'lengths along the arc' : 'straight lengths from one mark to the next'}.`}>
    {rig === 'mirror' ? <Wall /> : <Round rig={rig} />}
  </svg>
)
