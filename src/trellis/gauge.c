/* SPDX-License-Identifier: MIT
 * Tables of wire: gauges by diameter, grades by strength. */
#include <caneyear/trellis/wire.h>

#include <math.h>

#include <caneyear/base/text.h>

#include "inside.h"

#define IN *INCH_M
#define KSI *(1000 * PSI_PA)
#define LB *POUND_N

/* Diameters: the "wire" gauge tables of sizes.com; 12.5 gauge: ASTM A854/A854M-08(2013), preview.
 * Steel wire gauge, then AWG, Birmingham, British Imperial. */
static const struct cy_gauge gauges[] = {
    {9, "9", 0.1483 IN, 0.1144 IN, 0.148 IN, 0.144 IN},
    {10, "10", 0.1350 IN, 0.1019 IN, 0.134 IN, 0.128 IN},
    {11, "11", 0.1205 IN, 0.0907 IN, 0.120 IN, 0.116 IN},
    {12, "12", 0.1055 IN, 0.0808 IN, 0.109 IN, 0.104 IN},
    {12.5, "12.5", 0.0990 IN, 0, 0, 0},
    {13, "13", 0.0915 IN, 0.0720 IN, 0.095 IN, 0.092 IN},
    {14, "14", 0.0800 IN, 0.0641 IN, 0.083 IN, 0.080 IN},
};

/* Setting tension, high tensile: 200 to 250 lb, "Tensioning High Tensile Wire" (2010) and UF/IFAS
 * CIR851. Low carbon: 150 to 200 lb, "Wire Spacing and Tension Design for Woven Wire Fence
 * Systems", a fence trade page. Low carbon breaks under 550 lb and yields under 60 ksi in
 * 12.5 gauge (UF/IFAS CIR851): 70 ksi is that load over the area, rounded down here. */
static const struct cy_grade grades[] = {
    {"140", 140 KSI, 0, 200 LB, 250 LB, CY_BASIS_PUBLISHED, "ASTM A854/A854M-08(2013)"},
    {"170", 170 KSI, 0, 200 LB, 250 LB, CY_BASIS_PUBLISHED,
     "NRCS Georgia, code 382, high-tensile specification, 2006"},
    {"180", 180 KSI, 0, 200 LB, 250 LB, CY_BASIS_PUBLISHED, "ASTM A854/A854M-08(2013)"},
    {"200", 200 KSI, 0, 200 LB, 250 LB, CY_BASIS_PUBLISHED, "ASTM A854/A854M-08(2013)"},
    {"low-carbon", 70 KSI, 60 KSI, 150 LB, 200 LB, CY_BASIS_FITTED,
     "breaking load of 12.5 gauge in UF/IFAS CIR851, over its area"},
};

const struct cy_gauge *cy_gauge_at(size_t index)
{
    return index < sizeof gauges / sizeof *gauges ? &gauges[index] : NULL;
}

const struct cy_gauge *cy_gauge_find(double number)
{
    const struct cy_gauge *gauge;
    for (size_t i = 0; (gauge = cy_gauge_at(i)); i++)
        if (fabs(gauge->number - number) < 1e-6)
            return gauge;
    return NULL;
}

const struct cy_grade *cy_grade_at(size_t index)
{
    return index < sizeof grades / sizeof *grades ? &grades[index] : NULL;
}

const struct cy_grade *cy_grade_find(const char *name)
{
    const struct cy_grade *grade;
    for (size_t i = 0; (grade = cy_grade_at(i)); i++)
        if (cy_streq(grade->name, name))
            return grade;
    return NULL;
}
