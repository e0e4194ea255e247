/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "document/tongue.h"

static int chosen = -1; /* -1: by locale */

/* Stands for the choice, so that its signal can be connected to. */
#define DEW_TYPE_TONGUE_CHOICE (dew_tongue_choice_get_type ())
G_DECLARE_FINAL_TYPE (DewTongueChoice, dew_tongue_choice, DEW, TONGUE_CHOICE, GObject)
struct _DewTongueChoice
{
  GObject parent_instance;
};
G_DEFINE_FINAL_TYPE (DewTongueChoice, dew_tongue_choice, G_TYPE_OBJECT)

static void
dew_tongue_choice_class_init (DewTongueChoiceClass *klass)
{
  g_signal_new ("changed", DEW_TYPE_TONGUE_CHOICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                G_TYPE_NONE, 0);
}

static void
dew_tongue_choice_init (DewTongueChoice *self)
{
}

static DewTongueChoice *
choice (void)
{
  static DewTongueChoice *self;

  if (self == NULL)
    self = g_object_new (DEW_TYPE_TONGUE_CHOICE, NULL);
  return self;
}

DewTongue
dew_tongue (void)
{
  return chosen < 0 ? dew_tongue_of_locale () : (DewTongue) chosen;
}

void
dew_tongue_choose (DewTongue tongue)
{
  DewTongue was = dew_tongue ();

  chosen = (int) tongue;
  if (was != tongue)
    g_signal_emit_by_name (choice (), "changed");
}

void
dew_tongue_connect (GObject *owner, GCallback changed)
{
  g_signal_connect_object (choice (), "changed", changed, owner, G_CONNECT_SWAPPED);
}
