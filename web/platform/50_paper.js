// What is not the picture: the sheet on paper, and the words about the page.

(() => {
  'use strict';
  const sheet = document.getElementById('print');
  const about = document.getElementById('about');

  Hangtime.setPrint = html => { sheet.innerHTML = html; };
  // The same to be read on the screen, as text: by keyboard, by zooming, by a screen reader. It is a copy, so that what is
  // printed meanwhile is what stands then.
  Hangtime.showSheet = () => {
    let reading = document.getElementById('reading');
    if (!reading) {
      reading = document.createElement('dialog');
      reading.id = 'reading';
      reading.setAttribute('aria-label', 'Sheet');
      const close = document.createElement('button');
      close.type = 'button';
      close.textContent = 'Close';
      close.addEventListener('click', () => reading.close());
      reading.append(close, document.createElement('div'));
      // What was read does not stay in the page.
      reading.addEventListener('close', () => { reading.lastElementChild.textContent = ''; });
      document.body.append(reading);
    }
    reading.lastElementChild.innerHTML = sheet.innerHTML;
    if (!reading.open) reading.showModal();
  };
  Hangtime.print = () => setTimeout(() => print(), 0); // after the frame that asked for it
  addEventListener('beforeprint', () => { if (Hangtime.running && !Hangtime.over) Module._ht_before_print(); });

  Hangtime.showAbout = () => {
    if (!about.open) about.showModal();
  };
  document.getElementById('about-close').addEventListener('click', () => about.close());
})();
