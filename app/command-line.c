/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every command of the command line shares. */
#include "commands-private.h"

#include "store/store.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

/* --- speaking ---------------------------------------------------------- */

int
dew_command_say (const char *text)
{
  if (fputs (text, stdout) == EOF || fflush (stdout) == EOF)
    {
      fprintf (stderr, "dewtier: %s\n",
               _ ("the answer could not be written; look at where the output goes"));
      return DEW_EXIT_NO;
    }
  return DEW_EXIT_FINE;
}

int
dew_command_complain (int code, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  /* One line, whatever a file's name holds. */
  g_strdelimit (message, "\n\r", ' ');
  fprintf (stderr, "dewtier: %s\n", message);
  return code;
}

void
dew_command_speak_plainly (void)
{
  /* The locale C also passes over what LANGUAGE says. */
  setlocale (LC_ALL, "C");
}

/* --- options ----------------------------------------------------------- */

gboolean
dew_command_parse (int *argc, char ***argv, const GOptionEntry *entries, const char *words,
                   const char *summary, int least, int most, int *code)
{
  gboolean help = FALSE;
  const GOptionEntry help_entries[] = {
    { "help", 'h', 0, G_OPTION_ARG_NONE, &help, _ ("Show this help"), NULL },
    { NULL },
  };
  g_autoptr (GOptionContext) context = g_option_context_new (words);
  g_autofree char *command = g_strconcat ("dewtier ", (*argv)[0], NULL);
  g_autoptr (GError) error = NULL;

  g_set_prgname (command); /* as the help calls it */
  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_summary (context, summary);
  if (entries != NULL)
    g_option_context_add_main_entries (context, entries, NULL);
  g_option_context_add_main_entries (context, help_entries, NULL);
  if (!g_option_context_parse (context, argc, argv, &error))
    {
      *code
        = dew_command_complain (DEW_EXIT_USAGE, _ ("%s; see %s --help"), error->message, command);
      return FALSE;
    }
  if (help)
    {
      g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);

      *code = dew_command_say (text);
      return FALSE;
    }
  /* "--" stays in front of the words that follow it. */
  if (*argc > 1 && strcmp ((*argv)[1], "--") == 0)
    {
      (*argv)++;
      (*argc)--;
    }
  if (*argc - 1 < least || *argc - 1 > most)
    {
      *code = dew_command_complain (DEW_EXIT_USAGE,
                                    *argc - 1 < least
                                      /* Translators: a command and the words it takes */
                                      ? _ ("a word is missing; usage: %s %s")
                                      : _ ("there is a word too many; usage: %s %s"),
                                    command, words != NULL ? words : "");
      return FALSE;
    }
  return TRUE;
}

DewChamber *
dew_command_load (const char *path)
{
  g_autoptr (GError) error = NULL;
  DewChamber *chamber = dew_store_load (path, &error);

  if (chamber == NULL)
    dew_command_complain (DEW_EXIT_NO, "%s", error->message);
  return chamber;
}

const DewVariant *
dew_command_variant (const DewChamber *chamber, const char *name)
{
  if (name == NULL)
    return dew_chamber_shown (chamber);
  for (guint i = 0; i < chamber->variants->len; i++)
    {
      const DewVariant *variant = &g_array_index (chamber->variants, DewVariant, i);

      if (strcmp (variant->name, name) == 0)
        return variant;
    }
  return NULL;
}
