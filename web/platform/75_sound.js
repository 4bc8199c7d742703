// One soft sound: a single low tone without overtones that swells and dies away within half a second. Equipment
// alarms are groups of pulses, rich in overtones and higher; this must not be taken for one.

(() => {
  'use strict';
  const hertz = 262, loudest = 0.12, seconds = 0.5;
  let on = Hangtime.load('sound', 0) === 1, context = null, due = false;

  // Browsers let a page sound only after somebody touched it: the context is made then, and sleeps in between.
  const touched = () => {
    if (!on || context) return;
    try {
      context = new AudioContext();
      context.suspend();
    } catch {
      context = null;
    }
  };
  for (const name of ['pointerdown', 'pointerup', 'keydown']) addEventListener(name, touched, true);

  Hangtime.setSound = wished => {
    on = wished;
    if (on && navigator.userActivation?.isActive) touched();
    if (!on) {
      context?.close();
      context = null;
      due = false;
    }
  };
  // 0: off, 1: on, 2: switched on, and waits for a touch.
  Hangtime.sound = () => !on ? 0 : context ? 1 : 2;

  Hangtime.chime = () => {
    if (!on || !context || due) return; // one that waits for a loudspeaker is enough
    const playing = context;
    due = true;
    playing.resume().then(() => {
      due = false;
      const tone = playing.createOscillator(), volume = playing.createGain(), start = playing.currentTime + 0.02;
      tone.frequency.value = hertz;
      volume.gain.setValueAtTime(0, start);
      volume.gain.linearRampToValueAtTime(loudest, start + 0.08);
      volume.gain.setTargetAtTime(0, start + 0.12, 0.09);
      tone.connect(volume).connect(playing.destination);
      tone.onended = () => {
        if (playing.state === 'running') playing.suspend();
      };
      tone.start(start);
      tone.stop(start + seconds);
    }, () => { due = false; });
  };
})();
