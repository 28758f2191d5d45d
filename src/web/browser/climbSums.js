/** Keeps both sums under the boxes of a ride's climbs as they are ticked. */
const HOUR_S = 60 * 60;
const numbers = new Intl.NumberFormat(document.documentElement.lang, { maximumFractionDigits: 1 });

for (const boxes of document.querySelectorAll('fieldset[data-climbs-s]')) {
  if (!(boxes instanceof HTMLFieldSetElement)) continue;
  const { climbsS = '', besideS = '0' } = boxes.dataset;
  const seconds = climbsS.split(' ').map(Number);
  const show = () => {
    const sums = { counted: Number(besideS), left: 0 };
    boxes.querySelectorAll('input').forEach((box, i) => {
      sums[box.checked ? 'counted' : 'left'] += seconds[i] ?? 0;
    });
    for (const [name, s] of Object.entries(sums)) {
      const shown = boxes.querySelector(`[data-sum=${name}]`);
      // The number alone: its unit stands as the page wrote it.
      if (shown !== null)
        shown.textContent = (shown.textContent ?? '').replace(/^[^\u00a0]*/, numbers.format(s / HOUR_S));
    }
  };
  boxes.addEventListener('change', show);
  // A browser that went back keeps the ticks of before.
  show();
}
