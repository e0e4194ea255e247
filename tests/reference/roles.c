/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "roles.h"

#include "case.h"

struct _DewRoles
{
  GHashTable *of; /* name -> DewRole + 1 */
};

static const char *const role_keys[DEW_N_ROLES]
  = { "training", "validation", "held-back", "no role" };

const char *
dew_role_key (DewRole role)
{
  return role_keys[role];
}

DewRole
dew_role_from_key (const char *key)
{
  DewRole role = DEW_ROLE_TRAINING;

  while (role < DEW_ROLE_NONE && !g_str_equal (key, role_keys[role]))
    role++;
  return role < DEW_ROLE_NONE ? role : DEW_N_ROLES;
}

/* Takes one line apart and notes it. */
static gboolean
read_line (DewRoles *roles, const char *path, guint number, char *line, GError **error)
{
  g_auto (GStrv) words = NULL;
  DewRole role;

  if (strchr (line, '#'))
    *strchr (line, '#') = '\0';
  g_strstrip (g_strdelimit (line, "\t\r", ' '));
  if (*line == '\0')
    return TRUE;
  words = g_strsplit (line, " ", 2);
  role = dew_role_from_key (words[0]);
  if (role == DEW_N_ROLES || !words[1])
    {
      g_set_error (error, DEW_CASE_ERROR, DEW_CASE_ERROR_INVALID,
                   "%s:%u: expected a role (training, validation, held-back) and a case", path,
                   number);
      return FALSE;
    }
  g_hash_table_insert (roles->of, g_strdup (g_strstrip (words[1])), GINT_TO_POINTER (role + 1));
  return TRUE;
}

DewRoles *
dew_roles_load (const char *path, GError **error)
{
  g_autoptr (DewRoles) roles = g_new0 (DewRoles, 1);
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;

  roles->of = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  if (!g_file_get_contents (path, &text, NULL, error))
    return NULL;
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i]; i++)
    if (!read_line (roles, path, i + 1, lines[i], error))
      return NULL;
  return g_steal_pointer (&roles);
}

void
dew_roles_free (DewRoles *roles)
{
  if (!roles)
    return;
  g_hash_table_unref (roles->of);
  g_free (roles);
}

DewRole
dew_roles_of (const DewRoles *roles, const char *name)
{
  int role = roles ? GPOINTER_TO_INT (g_hash_table_lookup (roles->of, name)) : 0;

  return role ? (DewRole) (role - 1) : DEW_ROLE_NONE;
}

int
dew_roles_count (const DewRoles *roles, DewRole role)
{
  GHashTableIter iter;
  gpointer value;
  int n = 0;

  g_hash_table_iter_init (&iter, roles->of);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    n += GPOINTER_TO_INT (value) - 1 == (int) role;
  return n;
}
