// A log to a file and back. The name of a file that is opened goes no further: it could say who somebody is.

(() => {
  'use strict';
  // Bytes. The page has 64 MB for everything: how much of it a log may take beside the sessions that are there is judged by
  // web/store (SessionStore::has_room); what is larger than this never gets so far.
  const most = 8e6;
  const { kinds, tell } = Hangtime;

  let chosen = [], next = 0, turn = 0;

  // -> { text } or { outcome }
  const read = async file => {
    if (file.size > most) return { outcome: 1 };
    try {
      return { text: new TextDecoder('utf-8', { fatal: true }).decode(await file.arrayBuffer()) };
    } catch {
      return { outcome: 2 };
    }
  };

  const pick = (many, none, done) => {
    const input = document.createElement('input');
    input.type = 'file';
    input.accept = '.json,.jsonl,.txt,.log';
    input.multiple = many;
    input.addEventListener('cancel', none);
    input.addEventListener('change', () => (input.files.length ? done([...input.files]) : none()));
    Hangtime.picker = input; // kept: without a reference it can be gone before somebody has chosen
    input.click();
  };

  Hangtime.saveFile = (name, text, type) => {
    const link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = name;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // the browser may ask first where to put it
  };

  // The page as it was built, whatever has been shown since, with other protocols inside. No hash changes by that: the
  // policy covers neither their element nor its own text.
  Hangtime.savePage = (name, protocols) => {
    const page = Hangtime.asBuilt.cloneNode(true);
    page.querySelector('#protocols').textContent = protocols.replaceAll('<', '\\u003c');
    Hangtime.saveFile(name, `<!DOCTYPE html>\n${page.outerHTML}\n`, 'text/html');
  };

  // outcome as platform.hpp has it: 0 opened, 1 too large, 2 unreadable, 3 none chosen.
  Hangtime.openFile = () => pick(false, () => tell(kinds.file, { outcome: 3 }),
    async ([file]) => tell(kinds.file, await read(file)));

  // Of many only so many are read as are asked for: the rest waits on the disk, and the page never holds them all.
  Hangtime.openFiles = () => pick(true, () => tell(kinds.files, { n: 0 }), files => {
    [chosen, next] = [files, 0];
    turn += 1;
    tell(kinds.files, { n: files.length });
  });
  Hangtime.readFiles = async count => {
    const mine = turn, now = chosen.slice(next, next + count);
    next += now.length;
    const texts = await Promise.all(now.map(read));
    if (mine === turn) for (const text of texts) tell(kinds.fileRead, text);
  };
  Hangtime.forgetFiles = () => {
    chosen = [];
    turn += 1;
  };
})();
