/** How loud the loudest voice is played with the volume full, in LUFS: bare guitar and finished pedal are as loud here. */
export const playedLoudness = -24;
