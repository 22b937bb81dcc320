/* SPDX-License-Identifier: MIT
 * Hourly temperatures from daily minimum and maximum: a sine by day, a logarithm by night. */
#ifndef CANEYEAR_CLIMATE_HOURLY_H
#define CANEYEAR_CLIMATE_HOURLY_H

/* Three days' readings in C. Where the day before or after is unknown, give this day's own. */
struct cy_hourly_input {
    double before_min, before_max;
    double min, max;
    double after_min;
    double latitude_deg; /* north positive */
    int day_of_year;     /* 1 to 366 */
};

/* The sun's part in the rebuild, the same for every year's day: shares of the day's range under
 * the sun, shares of the way down to the next minimum in the dark. */
struct cy_hourly_sun {
    int light, dark; /* hours [0, light) precede sunrise, [light, dark) have sun, the rest follow */
    double share[24];
    double sunset_share, before_sunset_share; /* of the range, today and the day before */
};

/* Hours are local solar time. Where the sun does not rise, sunrise and sunset are both 12; where
 * it does not set, they are 0 and 24. */
double cy_hourly_sunrise(double latitude_deg, int day_of_year);
double cy_hourly_sunset(double latitude_deg, int day_of_year);

/* At one hour, 0 to 24; 24 is hour 0 of the next day. */
double cy_hourly_at(const struct cy_hourly_input *in, double hour);
/* At solar hours 0 to 23. */
void cy_hourly_day(double out[24], const struct cy_hourly_input *in);

/* The same in two halves, for many days at one latitude: cy_hourly_day is one after the other. */
void cy_hourly_sun_of(struct cy_hourly_sun *out, double latitude_deg, int day_of_year);
void cy_hourly_with(double out[24], const struct cy_hourly_sun *sun,
                    const struct cy_hourly_input *in);

#endif
