/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What a reference case is for: constants may be chosen on some, others only judge. A
 * text file says so, one case a line: the role, then the case's name; # begins a comment.
 */

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  DEW_ROLE_TRAINING,   /* constants may be chosen on it */
  DEW_ROLE_VALIDATION, /* judged, never fitted to */
  DEW_ROLE_HELD_BACK,  /* looked at by nobody before the constants stood */
  DEW_ROLE_NONE,       /* not in the list */
  DEW_N_ROLES
} DewRole;

typedef struct _DewRoles DewRoles;

/* NULL with an error that names the line. */
DewRoles *dew_roles_load (const char *path, GError **error);
void dew_roles_free (DewRoles *roles);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DewRoles, dew_roles_free)

/* Of the case of that name; `roles` may be NULL. */
DewRole dew_roles_of (const DewRoles *roles, const char *name);

/* Number of names with that role. */
int dew_roles_count (const DewRoles *roles, DewRole role);

const char *dew_role_key (DewRole role); /* 'training', ... */
/* DEW_N_ROLES when no role is called so. */
DewRole dew_role_from_key (const char *key);

G_END_DECLS
