/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The answers of dewtier assign and dewtier compare; the forms are described in
 * data/README.md. All are transfer full. */

#include "advice/assign/assign.h"
#include "advice/compare/compare.h"
#include "say/units.h"

G_BEGIN_DECLS

char *dew_report_assign_json (const char *file, const DewChamber *chamber,
                              const DewVariant *variant, const DewAssignment *assignment,
                              DewTongue tongue);
char *dew_report_assign_text (const DewChamber *chamber, const DewVariant *variant,
                              const DewAssignment *assignment, DewTongue tongue);
char *dew_report_compare_json (const char *file, const DewChamber *chamber,
                               const DewComparison *comparison, DewTongue tongue);
char *dew_report_compare_text (const DewChamber *chamber, const DewComparison *comparison,
                               DewTongue tongue);

G_END_DECLS
