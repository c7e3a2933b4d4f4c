// Two pouches side by side.

export function room({ element }) {
  return {
    show(told) {
      element.textContent = told.numbers.map((row) => row.join(": ")).join(" · ");
    },
    hide() {},
  };
}
