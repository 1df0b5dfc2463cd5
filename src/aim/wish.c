#include "aim/wish.h"

#include <math.h>
#include <string.h>

static const char *const kind_names[FW_N_WISH_KINDS] = {
  "top", "bottom", "stroke", "angle", "after", "travel", "tilt", "push", "torque", "without", "number", "same",
};

const char *
fw_wish_kind_name (FwWishKind kind)
{
  return kind_names[kind];
}

/* ---- The lists ---- */

static void
clear_wish (FwWish *wish)
{
  g_free (wish->part);
  g_free (wish->other);
  g_strfreev (wish->numbers);
  g_free (wish->among);
}

static void
clear_free (FwFree *item)
{
  g_free (item->number);
  g_free (item->among);
}

FwWishes *
fw_wishes_new (void)
{
  return g_new0 (FwWishes, 1);
}

void
fw_wishes_free (FwWishes *wishes)
{
  if (wishes == NULL)
    return;
  for (int i = 0; i < wishes->n_list; i++)
    clear_wish (&wishes->list[i]);
  for (int i = 0; i < wishes->n_free; i++)
    clear_free (&wishes->free[i]);
  g_free (wishes->list);
  g_free (wishes->free);
  g_free (wishes);
}

void
fw_wishes_add (FwWishes *wishes, FwWish wish)
{
  wishes->list = g_renew (FwWish, wishes->list, wishes->n_list + 1);
  wishes->list[wishes->n_list++] = wish;
}

void
fw_wishes_add_free (FwWishes *wishes, FwFree item)
{
  wishes->free = g_renew (FwFree, wishes->free, wishes->n_free + 1);
  wishes->free[wishes->n_free++] = item;
}

void
fw_wishes_remove (FwWishes *wishes, int i)
{
  clear_wish (&wishes->list[i]);
  memmove (&wishes->list[i], &wishes->list[i + 1], sizeof (FwWish) * (gsize)(wishes->n_list - i - 1));
  wishes->n_list--;
}

void
fw_wishes_remove_free (FwWishes *wishes, int i)
{
  clear_free (&wishes->free[i]);
  memmove (&wishes->free[i], &wishes->free[i + 1], sizeof (FwFree) * (gsize)(wishes->n_free - i - 1));
  wishes->n_free--;
}

FwWishes *
fw_wishes_copy (const FwWishes *from)
{
  FwWishes *to = fw_wishes_new ();
  for (int i = 0; i < from->n_list; i++)
    {
      FwWish wish = from->list[i];
      wish.part = g_strdup (wish.part);
      wish.other = g_strdup (wish.other);
      wish.numbers = g_strdupv (wish.numbers);
      wish.among = g_memdup2 (wish.among, sizeof (double) * (gsize)wish.n_among);
      fw_wishes_add (to, wish);
    }
  for (int i = 0; i < from->n_free; i++)
    {
      FwFree item = from->free[i];
      item.number = g_strdup (item.number);
      item.among = g_memdup2 (item.among, sizeof (double) * (gsize)item.n_among);
      fw_wishes_add_free (to, item);
    }
  return to;
}

gboolean
fw_wish_same_subject (const FwWish *a, const FwWish *b)
{
  return a->kind == b->kind && g_strcmp0 (a->part, b->part) == 0 && g_strcmp0 (a->other, b->other) == 0
         && a->crank_deg == b->crank_deg && (a->kind != FW_WISH_NUMBER || strcmp (a->numbers[0], b->numbers[0]) == 0)
         && a->kind != FW_WISH_WITHOUT && a->kind != FW_WISH_SAME;
}

int
fw_wishes_put (FwWishes *wishes, FwWish wish)
{
  for (int i = 0; i < wishes->n_list; i++)
    if (fw_wish_same_subject (&wishes->list[i], &wish))
      {
        clear_wish (&wishes->list[i]);
        wishes->list[i] = wish;
        return i;
      }
  fw_wishes_add (wishes, wish);
  return wishes->n_list - 1;
}

/* ---- Parts ---- */

int
fw_wish_member (const FwMechanism *mech, const char *name)
{
  for (int i = 0; i < mech->n_members; i++)
    if (strcmp (mech->members[i].name, name) == 0)
      return i;
  for (int i = 0; i < mech->n_members; i++) /* right before left */
    if (strcmp (mech->design->panels[mech->members[i].panel].name, name) == 0)
      return i;
  return -1;
}

int
fw_wish_link (const FwMechanism *mech, const char *name)
{
  for (int i = 0; i < mech->n_links; i++)
    if (strcmp (mech->links[i].name, name) == 0)
      return i;
  for (int i = 0; i < mech->n_links; i++)
    if (strcmp (mech->design->rods[mech->links[i].rod].name, name) == 0)
      return i;
  return -1;
}

FwUnit
fw_wish_unit (const FwWish *wish)
{
  switch (wish->kind)
    {
    case FW_WISH_TRAVEL:
    case FW_WISH_SAME:
      return FW_UNIT_MM;
    case FW_WISH_TORQUE:
      return FW_UNIT_NM;
    case FW_WISH_WITHOUT:
      return FW_UNIT_NONE;
    default:
      return FW_UNIT_DEG;
    }
}
