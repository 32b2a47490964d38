/** One way the work can hurt someone, and what to do about it. */
export interface Caution {
  readonly key: 'laser' | 'heat' | 'unplug' | 'salvage' | 'pointer' | 'codes'
  readonly title: string
  readonly text: string
}

/**
 * Every caution, in order of the work. Laser classes: IEC 60825-1 (public summaries); surface temperatures and holding current:
 * motor makers' guides; discharge and stored springs: general practice, from memory.
 */
export const cautions: readonly Caution[] = [
  {
    key: 'salvage',
    title: 'Mains parts and capacitors',
    text: 'Unplug salvaged equipment before opening it and leave anything that was on the mains to someone trained for it: capacitors stay charged after the plug is out, so discharge them safely and check that less than 50 V is left. Watch for springs and struts under tension.',
  },
  {
    key: 'unplug',
    title: 'Never unplug a motor from a live driver',
    text: 'Switch the driver off and wait before you connect or pull a motor wire; breaking the current under power can destroy the driver. Fix the motor down before switching on.',
  },
  {
    key: 'heat',
    title: 'Hot motor and driver',
    text: 'A stepper takes nearly full current while it stands still, so it heats most while it holds a mark. Cases of 60 to 90 °C are common and 60 °C hurts within seconds: use the least current that still holds, feel with care, pause when it gets hot.',
  },
  {
    key: 'laser',
    title: 'Laser light and mirrors',
    text: "Use class 1 or class 2 light only (at most 1 mW visible). A mirror throws the full beam: fix it before switching on, keep the beam below or above everyone's eyes, end it on matt paper, and never look along it or at it through optics.",
  },
  {
    key: 'pointer',
    title: 'Sharp or flying pointers',
    text: 'A pointer on a shaft can stab, pinch against a stop, or fly off. Blunt its tip, tape it well, step one command at a time, wear eye protection, and take it off before the motor runs fast.',
  },
  {
    key: 'codes',
    title: 'What this does not replace',
    text: 'These notes are no substitute for your local codes and regulations or for a licensed person where one is required.',
  },
]

/** The cautions that bear on a rig: the laser one only for a mirror, the pointer one only for a pointer. */
export const cautionsFor = (rig: 'pointer' | 'mirror' | 'any'): readonly Caution[] =>
  cautions.filter(
    ({ key }) => rig === 'any' || (key === 'laser' ? rig === 'mirror' : key === 'pointer' ? rig === 'pointer' : true),
  )
