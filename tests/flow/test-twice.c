/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Loops built for the processor at hand give the bits of those built for every processor
 * (core/zones/twice.h). The other build of flow and scalar is a module beside this program.
 * A promise of the program; no source. */

#include "flow/flow.h"
#include "transport/scalar.h"
#include "zones/loads.h"

#include <dlfcn.h>
#include <math.h>
#include <string.h>

#define STEPS 60

typedef struct
{
  __typeof__ (dew_flow_new) *flow_new;
  __typeof__ (dew_flow_free) *flow_free;
  __typeof__ (dew_flow_set_loads) *set_loads;
  __typeof__ (dew_flow_set_buoyancy) *set_buoyancy;
  __typeof__ (dew_flow_step) *flow_step;
  __typeof__ (dew_flow_velocity) *velocity;
  __typeof__ (dew_flow_flux) *flux;
  __typeof__ (dew_flow_viscosity) *viscosity;
  __typeof__ (dew_flow_pressure) *pressure;
  __typeof__ (dew_scalar_new) *scalar_new;
  __typeof__ (dew_scalar_free) *scalar_free;
  __typeof__ (dew_scalar_assemble) *scalar_assemble;
  __typeof__ (dew_scalar_step) *scalar_step;
  __typeof__ (dew_scalar_solve) *scalar_solve;
} Build;

static const Build here = {
  dew_flow_new,      dew_flow_free,       dew_flow_set_loads, dew_flow_set_buoyancy, dew_flow_step,
  dew_flow_velocity, dew_flow_flux,       dew_flow_viscosity, dew_flow_pressure,     dew_scalar_new,
  dew_scalar_free,   dew_scalar_assemble, dew_scalar_step,    dew_scalar_solve,
};

static gpointer
find (void *module, const char *name)
{
  gpointer there = dlsym (module, name);

  if (there == NULL)
    g_error ("%s", dlerror ());
  return there;
}

static Build
load_plain (void)
{
  void *module = dlopen (DEW_PLAIN_MODULE, RTLD_NOW | RTLD_LOCAL);
  Build b;

  if (module == NULL)
    g_error ("%s", dlerror ());
  b = (Build){
    find (module, "dew_flow_new"),       find (module, "dew_flow_free"),
    find (module, "dew_flow_set_loads"), find (module, "dew_flow_set_buoyancy"),
    find (module, "dew_flow_step"),      find (module, "dew_flow_velocity"),
    find (module, "dew_flow_flux"),      find (module, "dew_flow_viscosity"),
    find (module, "dew_flow_pressure"),  find (module, "dew_scalar_new"),
    find (module, "dew_scalar_free"),    find (module, "dew_scalar_assemble"),
    find (module, "dew_scalar_step"),    find (module, "dew_scalar_solve"),
  };
  /* Or the test would compare a build with itself. */
  g_assert_true (b.flow_step != dew_flow_step);
  return b;
}

typedef struct
{
  DewFlow *flow;
  DewScalar *scalar;
  double *warmth, *age, *buoyancy, *source;
} State;

/* Warm air from below that drives the flow it is carried by, then the age of the air. */
static State
march (const Build *b, const DewZones *z, const DewLoads *loads)
{
  State s = { 0 };
  DewFlowOptions options;
  DewScalarFlow carried
    = { .laminar_m2_s = 1.5e-5, .molecular_m2_s = 2.1e-5, .prandtl_turbulent = 0.85 };

  dew_flow_options_init (&options);
  s.flow = b->flow_new (z, &options, NULL);
  s.scalar = b->scalar_new (z);
  s.warmth = g_new0 (double, z->size);
  s.age = g_new0 (double, z->size);
  s.buoyancy = g_new0 (double, z->size);
  s.source = g_new0 (double, z->size);
  DEW_EACH_ZONE (z, at)
    s.source[at] = k_ <= 3 ? 0.1 * z->volume_m3[at] : 0.0;
  b->set_loads (s.flow, loads);
  b->set_buoyancy (s.flow, s.buoyancy);
  for (int a = 0; a < 3; a++)
    carried.flux_m3_s[a] = b->flux (s.flow, a);
  carried.viscosity_m2_s = b->viscosity (s.flow);
  for (int step = 0; step < STEPS; step++)
    {
      g_assert_true (b->flow_step (s.flow, 0.5));
      b->scalar_assemble (s.scalar, &carried);
      b->scalar_step (s.scalar, s.warmth, 0.0, NULL, s.source, TRUE, 0.5);
      DEW_EACH_ZONE (z, at)
        s.buoyancy[at] = s.warmth[at] * (9.81 / 293.0);
    }
  b->scalar_solve (s.scalar, s.age, 0.0, NULL, z->volume_m3, 1e-8);
  return s;
}

static void
clear (const Build *b, State *s)
{
  b->flow_free (s->flow);
  b->scalar_free (s->scalar);
  g_free (s->warmth);
  g_free (s->age);
  g_free (s->buoyancy);
  g_free (s->source);
}

static void
test_same_bits (gconstpointer zone_m)
{
  Build plain = load_plain ();
  g_autoptr (DewChamber) chamber = dew_chamber_demo ();
  const DewVariant *variant = dew_chamber_shown (chamber);
  g_autoptr (DewZones) z = dew_zones_new (chamber, variant, *(const double *) zone_m);
  const DewLoadsOptions options = { .density_kg_m3 = 1.2, .latent_heat_J_kg = 2.45e6 };
  g_autoptr (DewLoads) loads = dew_loads_new (z, chamber, variant, &options);
  State a = march (&here, z, loads), b = march (&plain, z, loads);
  gsize bytes = sizeof (double) * z->size;

  for (int c = 0; c < 3; c++)
    g_assert_cmpmem (dew_flow_velocity (a.flow, c), bytes, plain.velocity (b.flow, c), bytes);
  g_assert_cmpmem (dew_flow_pressure (a.flow), bytes, plain.pressure (b.flow), bytes);
  DEW_EACH_ZONE (z, at)
    {
      g_assert_cmpmem (a.warmth + at, sizeof (double), b.warmth + at, sizeof (double));
      g_assert_cmpmem (a.age + at, sizeof (double), b.age + at, sizeof (double));
    }
  clear (&here, &a);
  clear (&plain, &b);
}

int
main (int argc, char **argv)
{
  static const double draft_m = 0.10, settled_m = 0.065;

  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/twice/draft", &draft_m, test_same_bits);
  g_test_add_data_func ("/twice/settled", &settled_m, test_same_bits);
  return g_test_run ();
}
