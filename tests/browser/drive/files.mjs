// Files without the browser's own questions: what the page offers for saving is caught, and what is chosen is put where
// the picker would put it. After each load again.

export const catchFiles = page =>
  page.evaluate(() => {
    globalThis.files = [];
    globalThis.Hangtime.saveFile = (name, text) => globalThis.files.push({ name, text });
    globalThis.choosing = [];
    HTMLInputElement.prototype.click = function () {
      const chosen = new DataTransfer();
      for (const { name, text } of globalThis.choosing) chosen.items.add(new File([text], name));
      this.files = chosen.files;
      this.dispatchEvent(new Event('change'));
    };
  });

export const saved = page => page.evaluate(() => globalThis.files);

// What is chosen the next time that the page asks: a list of { name, text }.
export const willChoose = (page, files) =>
  page.evaluate(files => {
    globalThis.choosing = files;
  }, files);
