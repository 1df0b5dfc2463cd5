/* Allocations that fail when told to, and blocks that are counted: for one test program each, which is
 * linked with --wrap=malloc, --wrap=calloc and --wrap=free. */
#pragma once

#include <glib.h>

void *__real_malloc (size_t size);
void *__real_calloc (size_t n, size_t size);
void __real_free (void *p);
void *__wrap_malloc (size_t size);
void *__wrap_calloc (size_t n, size_t size);
void __wrap_free (void *p);

static long left = -1; /* allocations until one fails; -1: none does */
static long held;      /* blocks */

static gboolean
fails (void)
{
  return left >= 0 && left-- == 0;
}

void *
__wrap_malloc (size_t size)
{
  void *p = fails () ? NULL : __real_malloc (size);
  held += p != NULL;
  return p;
}

void *
__wrap_calloc (size_t n, size_t size)
{
  void *p = fails () ? NULL : __real_calloc (n, size);
  held += p != NULL;
  return p;
}

void
__wrap_free (void *p)
{
  held -= p != NULL;
  __real_free (p);
}
