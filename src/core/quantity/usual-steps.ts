/** Numbers of full steps per turn that motors are made with (common practice, no source). */
export const usualSteps = [4, 8, 12, 16, 20, 24, 32, 36, 40, 48, 50, 60, 64, 72, 96, 100, 120, 144, 150, 180, 192, 200, 240, 300, 360, 400, 500, 800]
