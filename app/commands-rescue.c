/* SPDX-License-Identifier: GPL-3.0-or-later */
/* dewtier rescue: what can be read of a damaged document, as a new one. */
#include "command-line.h"

#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

int
dew_command_rescue (DewAsked *asked)
{
  const char *in = asked->words[0], *out = asked->words[1];
  g_autoptr (GPtrArray) losses = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  if (!g_str_has_suffix (out, DEW_STORE_SUFFIX))
    return dew_command_complain (DEW_EXIT_USAGE, _ ("%s: let the name end in %s"), out,
                                 DEW_STORE_SUFFIX);
  if (!dew_store_rescue (in, out, losses, &error))
    return dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  if (losses->len == 0)
    g_string_append_printf (text, _ ("%s: nothing is amiss; the copy %s is the same\n"), in, out);
  else
    g_string_append_printf (text, _ ("%s: this is what was found amiss; the rest is in %s\n"), in,
                            out);
  for (guint i = 0; i < losses->len; i++)
    {
      g_autofree char *plain = dew_text_plain (g_ptr_array_index (losses, i), FALSE);

      g_string_append_printf (text, "  %s\n", plain);
    }
  return dew_command_say (text->str);
}
