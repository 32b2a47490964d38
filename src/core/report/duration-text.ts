/**
 * How long a piece of work takes, as a person would plan it: "85 s", "95 min", "2 h 5 min"; whole seconds below a
 * minute and a half, whole minutes from there on (an estimate's seconds would only pretend).
 * @param seconds s, zero or more
 */
export const durationText = (seconds: number): string => {
  const whole = Math.round(seconds)
  if (whole < 90) return `${whole} s`
  const minutes = Math.round(whole / 60)
  return minutes < 120 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`
}
