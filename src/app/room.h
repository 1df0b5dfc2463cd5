/* Memory that only grows, so that a drag solves in the same place again and again. */
#pragma once

#include <glib.h>

typedef struct
{
  void *memory; /* g_free () it at the end */
  gsize size;
} FwRoom;

/* At least `size` bytes; what was there before may be gone. */
static inline void *
fw_room_for (FwRoom *room, gsize size)
{
  if (size > room->size)
    {
      g_free (room->memory);
      room->memory = g_malloc (size);
      room->size = size;
    }
  return room->memory;
}
