/* One stage written by hand: leg R3 and C3, RV1 with C4 and an anti-parallel pair of diodes across it, ideal op-amp.
 * Trapezoidal rule with companion models, Newton's method on the pair's voltage to a last step of 1e-6 V.
 * Arguments: steps, rate in Hz, frequency in Hz, peak in V. Prints nanoseconds a step and the output's RMS. */
#define _XOPEN_SOURCE 700
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

int main(int count, char **text) {
  if (count != 5) return 2;
  const long steps = atol(text[1]);
  const double rate = atof(text[2]), frequency = atof(text[3]), peak = atof(text[4]);
  const double R3 = 3300, C3 = 68e-9, R = 330050, C4 = 120e-12, Is = 2.52e-9, nVT = 1.752 * 0.025852;
  const double g3 = 2 * C3 * rate, g4 = 2 * C4 * rate, g = g4 + 1 / R;
  double *input = malloc(sizeof(double) * steps);
  if (!input) return 2;
  for (long n = 0; n < steps; n++) input[n] = peak * sin(2 * M_PI * frequency * (n + 1) / rate);
  double s3 = 0, s4 = 0, v = 0, squares = 0;
  struct timespec start, end;
  clock_gettime(CLOCK_MONOTONIC, &start);
  for (long n = 0; n < steps; n++) {
    const double leg = (g3 * input[n] - s3) / (1 + g3 * R3); /* current through R3 and C3 */
    const double drive = leg + s4;                           /* g·v + 2·Is·sinh(v/nVT) = drive */
    const double bound = nVT * asinh(fabs(drive) / (2 * Is));
    if (fabs(v) > bound) v = copysign(bound, drive);
    for (int round = 0; round < 40; round++) {
      const double e = exp(v / nVT), f = 1 / e;
      const double step = (g * v + Is * (e - f) - drive) / (g + Is * (e + f) / nVT);
      v -= step;
      if (fabs(v) > bound) v = copysign(bound, drive);
      if (fabs(step) < 1e-6) break;
    }
    s3 = 2 * g3 * (input[n] - R3 * leg) - s3;
    s4 = 2 * g4 * v - s4;
    const double out = input[n] + v;
    squares += out * out;
  }
  clock_gettime(CLOCK_MONOTONIC, &end);
  printf("%.17g %.17g\n", ((end.tv_sec - start.tv_sec) * 1e9 + (end.tv_nsec - start.tv_nsec)) / steps,
         sqrt(squares / steps));
  free(input);
  return 0;
}
