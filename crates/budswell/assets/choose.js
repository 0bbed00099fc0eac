// Counts the trees chosen on Waking and names them in the bar.

/** @type {HTMLFormElement | null} */
const form = document.querySelector("#choose");
const words = document.querySelector("#chosen");

/** Says how many trees are chosen, and whether trying makes sense. */
function count() {
  if (!form || !words) return;
  const chosen = form.querySelectorAll('input[name="tree"]:checked').length;
  words.textContent = chosen === 0 ? "the chosen trees" : chosen === 1 ? "1 tree" : `${chosen} trees`;
  form.classList.toggle("chosen", chosen > 0);
  const button = form.querySelector("button");
  if (button) button.disabled = chosen === 0;
}

form?.addEventListener("change", count);
count();
