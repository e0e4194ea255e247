/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas/theme.h"

#include <string.h>

#define STYLE_RESOURCE "/garden/dewtier/Dewtier/style.css"
#define PORTAL_NAME "org.freedesktop.portal.Desktop"
#define PORTAL_PATH "/org/freedesktop/portal/desktop"
#define PORTAL_SETTINGS "org.freedesktop.portal.Settings"
#define APPEARANCE "org.freedesktop.appearance"
#define PREFERS_DARK 1

/* Values of the portal's "color-scheme": 0 no wish, 1 dark, 2 light. */

static void
read_wish (gboolean *dark, gboolean *contrast)
{
  GtkSettings *settings = gtk_settings_get_default ();
  const char *forced = g_getenv ("GTK_THEME");
  g_autofree char *name = NULL;
  gboolean prefer_dark = FALSE;

  *dark = *contrast = FALSE;
  if (settings == NULL)
    return;
  g_object_get (settings, "gtk-theme-name", &name, "gtk-application-prefer-dark-theme",
                &prefer_dark, NULL);
  /* The variable wins over the settings inside GTK too. */
  if (forced != NULL && *forced != '\0')
    {
      g_free (name);
      name = g_strdup (forced);
      prefer_dark = FALSE;
    }
  if (name == NULL)
    name = g_strdup ("");
  *contrast = strstr (name, "-hc") != NULL || g_str_has_prefix (name, "HighContrast");
  *dark = prefer_dark || g_str_has_suffix (name, "dark") || strstr (name, "Inverse") != NULL;
}

const DewPalette *
dew_theme_palette (void)
{
  gboolean dark, contrast;

  read_wish (&dark, &contrast);
  return dew_palette_get (dark, contrast);
}

void
dew_theme_connect (GObject *owner, GCallback changed)
{
  GtkSettings *settings = gtk_settings_get_default ();

  g_signal_connect_object (settings, "notify::gtk-theme-name", changed, owner, G_CONNECT_SWAPPED);
  g_signal_connect_object (settings, "notify::gtk-application-prefer-dark-theme", changed, owner,
                           G_CONNECT_SWAPPED);
}

static void
define_colour (GString *css, const char *name, const DewColour *colour)
{
  g_string_append_printf (css, "@define-color %s #%02x%02x%02x;\n", name,
                          (guint) (colour->r * 255.0 + 0.5), (guint) (colour->g * 255.0 + 0.5),
                          (guint) (colour->b * 255.0 + 0.5));
}

static void
load_style (GtkCssProvider *provider)
{
  const DewPalette *palette = dew_theme_palette ();
  g_autoptr (GBytes) rules = g_resources_lookup_data (STYLE_RESOURCE, 0, NULL);
  g_autoptr (GString) css = g_string_new (NULL);

  g_return_if_fail (rules != NULL);
  define_colour (css, "dew_paper", &palette->paper);
  define_colour (css, "dew_ink", &palette->ink);
  define_colour (css, "dew_ink_soft", &palette->ink_soft);
  define_colour (css, "dew_body", &palette->body);
  define_colour (css, "dew_accent", &palette->accent);
  /* Fields are told by their ground; with high contrast also by an edge. */
  if (palette->high_contrast)
    define_colour (css, "dew_edge", &palette->ink_soft);
  else
    g_string_append (css, "@define-color dew_edge transparent;\n");
  g_string_append_len (css, g_bytes_get_data (rules, NULL), (gssize) g_bytes_get_size (rules));
  gtk_css_provider_load_from_data (provider, css->str, (gssize) css->len);
}

static void
apply_scheme (GVariant *value)
{
  g_autoptr (GVariant) inner = g_variant_ref (value);

  /* Some portals wrap the number in one variant, some in two. */
  while (g_variant_is_of_type (inner, G_VARIANT_TYPE_VARIANT))
    {
      GVariant *unwrapped = g_variant_get_variant (inner);

      g_variant_unref (inner);
      inner = unwrapped;
    }
  if (g_variant_is_of_type (inner, G_VARIANT_TYPE_UINT32))
    g_object_set (gtk_settings_get_default (), "gtk-application-prefer-dark-theme",
                  g_variant_get_uint32 (inner) == PREFERS_DARK, NULL);
}

static void
on_setting_changed (GDBusConnection *bus, const char *sender, const char *path,
                    const char *interface, const char *signal, GVariant *parameters,
                    gpointer user_data)
{
  const char *group, *key;
  g_autoptr (GVariant) value = NULL;

  if (!g_variant_is_of_type (parameters, G_VARIANT_TYPE ("(ssv)")))
    return;
  g_variant_get (parameters, "(&s&sv)", &group, &key, &value);
  if (strcmp (group, APPEARANCE) == 0 && strcmp (key, "color-scheme") == 0)
    apply_scheme (value);
}

static void
on_setting_read (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GVariant) reply
    = g_dbus_connection_call_finish (G_DBUS_CONNECTION (source), result, NULL);
  g_autoptr (GVariant) value = NULL;

  /* No portal: the theme's name is all there is to follow. */
  if (reply == NULL)
    return;
  value = g_variant_get_child_value (reply, 0);
  apply_scheme (value);
}

static void
on_bus (GObject *source, GAsyncResult *result, gpointer user_data)
{
  /* Kept for the life of the program, as its subscription is. */
  GDBusConnection *bus = g_bus_get_finish (result, NULL);

  if (bus == NULL)
    return;
  g_dbus_connection_signal_subscribe (bus, PORTAL_NAME, PORTAL_SETTINGS, "SettingChanged",
                                      PORTAL_PATH, APPEARANCE, G_DBUS_SIGNAL_FLAGS_NONE,
                                      on_setting_changed, NULL, NULL);
  g_dbus_connection_call (bus, PORTAL_NAME, PORTAL_PATH, PORTAL_SETTINGS, "Read",
                          g_variant_new ("(ss)", APPEARANCE, "color-scheme"),
                          G_VARIANT_TYPE ("(v)"), G_DBUS_CALL_FLAGS_NONE, 2000, NULL,
                          on_setting_read, NULL);
}

void
dew_theme_follow (GdkDisplay *display)
{
  g_autoptr (GtkCssProvider) provider = gtk_css_provider_new ();

  load_style (provider);
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
  dew_theme_connect (G_OBJECT (provider), G_CALLBACK (load_style));
  g_bus_get (G_BUS_TYPE_SESSION, NULL, on_bus, NULL);
}

/* The size of text that the painter calls 1: 10.5 pt at 96 dpi. */
#define BASE_TEXT_PX 14.0

double
dew_theme_text (GtkWidget *widget, const char **family)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  const PangoFontDescription *font = pango_context_get_font_description (context);
  double size_px = pango_font_description_get_size (font) / (double) PANGO_SCALE;

  if (!pango_font_description_get_size_is_absolute (font))
    {
      double dpi = pango_cairo_context_get_resolution (context);

      size_px *= (dpi > 0.0 ? dpi : 96.0) / 72.0;
    }
  *family = pango_font_description_get_family (font);
  return size_px > 1.0 ? size_px / BASE_TEXT_PX : 1.0;
}
