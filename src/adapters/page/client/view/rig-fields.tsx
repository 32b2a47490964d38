import { bench } from '#adapters/page/client/app/bench'
import { useStore } from '#adapters/page/client/app/store'
import { RigDrawing } from './rig-drawing.tsx'
import { SetUpChoice, SetUpField } from './set-up-field.tsx'

const rigs = [['pointer', 'Pointer over paper, angles'], ['arc', 'Marks along an arc, lengths'], ['chord', 'Straight from mark to mark'], ['mirror', 'Light spot on a wall']] as const
const angleUnits = [['deg', 'degrees'], ['arcmin', 'arc minutes'], ['rad', 'radians']] as const
const lengthUnits = [['mm', 'millimetres'], ['cm', 'centimetres'], ['in', 'inches']] as const

/** Motor and rig of a test, with a drawing that shows what each length means. */
export const RigFields = ({ photo }: { readonly photo: boolean }) => {
  const rig = useStore(bench, (state) => state.work?.setUp['rig'] ?? 'pointer')
  return (
    <fieldset class="rig">
      <legend>Motor and rig</legend>
      <div class="fields">
        <SetUpField name="steps-per-rev" hint="48, 200 …" number />
        <SetUpField name="microsteps" hint="as the driver is set: 4, 16 …" number />
        {!photo && <SetUpChoice name="rig" label="Rig" options={rigs} wide />}
        {!photo && <SetUpChoice key={rig === 'pointer' ? 'angle' : 'length'} name="position-unit" label="Unit of the positions" options={rig === 'pointer' ? angleUnits : lengthUnits} />}
        {rig !== 'mirror' && <SetUpField name="radius" hint={rig === 'pointer' ? 'only for an uncertainty in mm' : '80 mm, or 80 ± 0.5 mm'} />}
        {rig === 'mirror' && <SetUpField name="distance" hint="1520 ± 3 mm" />}
        {rig === 'mirror' && <SetUpField name="foot" hint="where the beam meets the wall squarely" />}
        <SetUpField name="mark-uncertainty" hint={photo ? 'how well the pen was placed: 0.1 deg; only when you know it' : 'standard uncertainty: 0.1 deg or 0.2 mm'} />
        <SetUpField name="gears" hint="driven:driving, 17:8" />
        <SetUpField name="commands" hint="empty: worked out from the marks" number />
        <SetUpField name="full-step-command" hint="number of a command that stands on a full step; empty: the start" number />
      </div>
      <RigDrawing rig={rig} />
    </fieldset>
  )
}
