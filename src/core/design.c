#include "core/design.h"

#include <stdlib.h>
#include <string.h>

#define CLEAR_MM 30.0 /* between moving parts and what the automatic base is made of */

static void *
copy_bytes (const void *from, size_t size, bool *failed)
{
  if (from == NULL || size == 0)
    return NULL;
  void *to = malloc (size);
  if (to == NULL)
    *failed = true;
  else
    memcpy (to, from, size);
  return to;
}

static char *
copy_text (const char *from, bool *failed)
{
  return copy_bytes (from, from == NULL ? 0 : strlen (from) + 1, failed);
}

static void
copy_solid (FwSolid *solid, bool *failed)
{
  solid->sections
      = copy_bytes (solid->sections, sizeof (FwSection) * (size_t)solid->n_sections, failed);
}

/* Each array is copied as bytes first and its pointers then replaced one by one, so that a copy
 * that fails half-way can still be freed. */
static void
copy_throws (FwCrank *to, const FwCrank *from, bool *failed)
{
  to->material = copy_text (from->material, failed);
  to->build.pipe = copy_text (from->build.pipe, failed);
  to->throws = copy_bytes (from->throws, sizeof (FwThrow) * (size_t)from->n_throws, failed);
  to->n_throws = to->throws == NULL ? 0 : from->n_throws;
  for (int i = 0; i < to->n_throws; i++)
    to->throws[i].name = copy_text (from->throws[i].name, failed);
}

static void
copy_panels (FwDesign *to, const FwDesign *from, bool *failed)
{
  to->panels = copy_bytes (from->panels, sizeof (FwPanel) * (size_t)from->n_panels, failed);
  to->n_panels = to->panels == NULL ? 0 : from->n_panels;
  for (int i = 0; i < to->n_panels; i++)
    {
      FwPanel *p = &to->panels[i];
      p->name = copy_text (p->name, failed);
      p->material = copy_text (p->material, failed);
      p->outline_mm = copy_bytes (p->outline_mm, sizeof (FwVec2) * (size_t)p->n_outline, failed);
      copy_solid (&p->solid, failed);
    }
}

static void
copy_rods (FwDesign *to, const FwDesign *from, bool *failed)
{
  to->rods = copy_bytes (from->rods, sizeof (FwRod) * (size_t)from->n_rods, failed);
  to->n_rods = to->rods == NULL ? 0 : from->n_rods;
  for (int i = 0; i < to->n_rods; i++)
    {
      to->rods[i].name = copy_text (from->rods[i].name, failed);
      to->rods[i].material = copy_text (from->rods[i].material, failed);
    }
}

static void
copy_springs (FwDesign *to, const FwDesign *from, bool *failed)
{
  to->springs = copy_bytes (from->springs, sizeof (FwSpringPart) * (size_t)from->n_springs, failed);
  to->n_springs = to->springs == NULL ? 0 : from->n_springs;
  for (int i = 0; i < to->n_springs; i++)
    to->springs[i].name = copy_text (to->springs[i].name, failed);
  FwCrank *crank = &to->crank;
  crank->weights = copy_bytes (from->crank.weights, sizeof (FwCrankWeight) * (size_t)from->crank.n_weights, failed);
  crank->n_weights = crank->weights == NULL ? 0 : from->crank.n_weights;
  for (int i = 0; i < crank->n_weights; i++)
    crank->weights[i].name = copy_text (crank->weights[i].name, failed);
}

static void
free_springs (FwDesign *d)
{
  for (int i = 0; i < d->n_springs; i++)
    free (d->springs[i].name);
  for (int i = 0; i < d->crank.n_weights; i++)
    free (d->crank.weights[i].name);
  free (d->springs);
  free (d->crank.weights);
}

static void
copy_stock (FwStock *to, const FwStock *from, bool *failed)
{
  to->bars = copy_bytes (from->bars, sizeof (FwStockBar) * (size_t)from->n_bars, failed);
  to->n_bars = to->bars == NULL ? 0 : from->n_bars;
  for (int i = 0; i < to->n_bars; i++)
    {
      to->bars[i].name = copy_text (to->bars[i].name, failed);
      to->bars[i].material = copy_text (to->bars[i].material, failed);
    }
  to->sheets = copy_bytes (from->sheets, sizeof (FwStockSheet) * (size_t)from->n_sheets, failed);
  to->n_sheets = to->sheets == NULL ? 0 : from->n_sheets;
  for (int i = 0; i < to->n_sheets; i++)
    {
      to->sheets[i].name = copy_text (to->sheets[i].name, failed);
      to->sheets[i].material = copy_text (to->sheets[i].material, failed);
    }
}

static void
free_stock (FwStock *stock)
{
  for (int i = 0; i < stock->n_bars; i++)
    {
      free (stock->bars[i].name);
      free (stock->bars[i].material);
    }
  for (int i = 0; i < stock->n_sheets; i++)
    {
      free (stock->sheets[i].name);
      free (stock->sheets[i].material);
    }
  free (stock->bars);
  free (stock->sheets);
}

FwDesign *
fw_design_copy (const FwDesign *design)
{
  FwDesign *copy = malloc (sizeof *copy);
  if (copy == NULL)
    return NULL;
  bool failed = false;
  *copy = *design;
  copy_throws (&copy->crank, &design->crank, &failed);
  copy->body.material = copy_text (design->body.material, &failed);
  copy_solid (&copy->body.solid, &failed);
  copy_panels (copy, design, &failed);
  copy_rods (copy, design, &failed);
  copy_springs (copy, design, &failed);
  copy_stock (&copy->stock, &design->stock, &failed);
  copy->body.lumps
      = copy_bytes (design->body.lumps, sizeof (FwLump) * (size_t)design->body.n_lumps, &failed);
  copy->body.n_lumps = copy->body.lumps == NULL ? 0 : design->body.n_lumps;
  for (int i = 0; i < copy->body.n_lumps; i++)
    copy->body.lumps[i].name = copy_text (copy->body.lumps[i].name, &failed);
  copy->base.bearings_mm = copy_bytes (design->base.bearings_mm,
                                       sizeof (double) * (size_t)design->base.n_bearings, &failed);
  if (failed)
    {
      fw_design_free (copy);
      return NULL;
    }
  return copy;
}

void
fw_design_free (FwDesign *design)
{
  if (design == NULL)
    return;
  for (int i = 0; i < design->crank.n_throws; i++)
    free (design->crank.throws[i].name);
  for (int i = 0; i < design->n_panels; i++)
    {
      free (design->panels[i].name);
      free (design->panels[i].material);
      free (design->panels[i].outline_mm);
      free (design->panels[i].solid.sections);
    }
  for (int i = 0; i < design->n_rods; i++)
    {
      free (design->rods[i].name);
      free (design->rods[i].material);
    }
  for (int i = 0; i < design->body.n_lumps; i++)
    free (design->body.lumps[i].name);
  free (design->body.lumps);
  free (design->crank.throws);
  free (design->crank.material);
  free (design->crank.build.pipe);
  free_stock (&design->stock);
  free_springs (design);
  free (design->body.material);
  free (design->body.solid.sections);
  free (design->panels);
  free (design->rods);
  free (design->base.bearings_mm);
  free (design);
}

static double
largest_throw (const FwDesign *d)
{
  double r = 0;
  for (int i = 0; i < d->crank.n_throws; i++)
    r = fmax (r, d->crank.throws[i].radius_mm);
  return r;
}

/* Ends of what stands on the crank axis, throws and twins. */
static void
axis_reach (const FwDesign *d, double *lowest, double *highest)
{
  *lowest = *highest = 0;
  for (int i = 0; i < d->crank.n_throws; i++)
    {
      const FwThrow *t = &d->crank.throws[i];
      double half = t->width_mm / 2;
      *lowest = fmin (*lowest, t->station_mm - half);
      *highest = fmax (*highest, t->station_mm + half);
      if (t->both && d->crank.runs == FW_RUNS_ACROSS)
        {
          *lowest = fmin (*lowest, -t->station_mm - half);
          *highest = fmax (*highest, -t->station_mm + half);
        }
    }
}

static int
ascending (const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

int
fw_design_bearings (const FwDesign *design, double *stations_mm, int capacity)
{
  int n = design->base.n_bearings;
  if (n > 0)
    {
      int written = n < capacity ? n : capacity;
      if (written <= 0) /* asked only how many: there may be nowhere to write */
        return n;
      memcpy (stations_mm, design->base.bearings_mm, sizeof (double) * (size_t)written);
      qsort (stations_mm, (size_t)written, sizeof (double), ascending);
      return n;
    }
  if (design->crank.n_throws == 0)
    return 0;
  double ends[2];
  axis_reach (design, &ends[0], &ends[1]);
  ends[0] -= CLEAR_MM;
  ends[1] += CLEAR_MM;
  for (int i = 0; i < 2 && i < capacity; i++)
    stations_mm[i] = ends[i];
  return 2;
}

void
fw_design_base (const FwDesign *design, double plate_mm[3], double *top_mm)
{
  if (design->base.plate_mm[0] > 0)
    {
      memcpy (plate_mm, design->base.plate_mm, 3 * sizeof (double));
      *top_mm = design->base.top_mm;
      return;
    }
  double lowest, highest;
  axis_reach (design, &lowest, &highest);
  double along = 2 * (fmax (-lowest, highest) + 2 * CLEAR_MM);
  double r = fmax (largest_throw (design), design->base.handle_mm);
  double square = fmax (2 * r + 2 * CLEAR_MM, 0.35 * along);
  bool across = design->crank.runs == FW_RUNS_ACROSS;
  plate_mm[0] = across ? along : square;
  plate_mm[1] = across ? square : along;
  plate_mm[2] = 15;
  *top_mm = -(r + design->crank.diameter_mm / 2 + CLEAR_MM);
}
