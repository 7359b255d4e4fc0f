// @ts-check
/** Choose the browser's own time zone in a select that asks for a guess. */

const place = document.querySelector("select[data-guess]");
if (place instanceof HTMLSelectElement) {
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if ([...place.options].some((option) => option.value === here)) place.value = here;
}
