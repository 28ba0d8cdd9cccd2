/** How long something takes, as every page and paper says it: `4 min 05 s`, `38 s`, `1 h 02 min`. */
export const duration = (seconds: number): string => {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) return `${Math.floor(whole / 60)} min ${String(whole % 60).padStart(2, '0')} s`;
  return `${Math.floor(whole / 3600)} h ${String(Math.floor((whole % 3600) / 60)).padStart(2, '0')} min`;
};
