/* SPDX-License-Identifier: GPL-3.0-or-later */

/* les JOBS.txt OUT.jsonl [cases side by side] [seconds of wall clock] [device]
 *
 * Large-eddy simulation of the air in small shelved enclosures. Reads jobs (case.h), computes
 * each (spin-up on a coarse grid, spin-up on the wanted one, average) and writes one JSON
 * object a line. README.md has method, validation and limits. Built by nvcc for a GPU or, as
 * C++, for a processor. */

#include "results.h"

#include <atomic>
#include <mutex>
#include <thread>

/* Shares of a case's time that its spin-ups may take at most. */
static const double coarse_share = 0.45, spin_share = 0.4;

struct Spin
{
  Snapshot state;
  bool ran = false, failed = false;
  double wall_s = 0;
};

static Spin
spin_coarse (const Case &wanted, double stop_s)
{
  const double start_s = now_s ();
  Spin spin;

  if (wanted.coarse_m > 0 && wanted.coarse_s > 0)
    {
      Case c = wanted;

      c.dt_max_s = std::max (c.dt_max_s, 0.01);

      Simulation s (c, c.coarse_m);

      s.start ();
      spin.ran = s.run_until (c.coarse_s, start_s + coarse_share * (stop_s - start_s));
      spin.failed = !spin.ran;
      if (spin.ran)
        spin.state = s.snapshot ();
    }
  spin.wall_s = now_s () - start_s;
  return spin;
}

/* What the run was, as JSON members. */
static std::string
json_run (const Simulation &s, const Spin &spin, const Means &all, const Means &half, bool bad,
          double spin_s, double start_s, double fine_s)
{
  const double end_s = now_s (), h[3] = { s.g.h[0], s.g.h[1], s.g.h[2] };
  const double steps = s.control.t_s / s.control.dt_s;
  const double cells = (double) s.g.nx * s.g.ny * s.g.nz;
  std::ostringstream text;

  text << "\"name\":\"" << s.c.name << "\",\"tag\":\"" << s.c.tag << "\",\"bad\":" << bad
       << ",\"coarse_failed\":" << spin.failed << ",\"cell_m\":" << json_list (h, 3, "%.5g")
       << ",\"cells\":[" << s.g.nx << "," << s.g.ny << "," << s.g.nz << "]"
       << ",\"coarse_cell_m\":" << (spin.ran ? s.c.coarse_m : 0)
       << ",\"coarse_s\":" << (spin.ran ? s.c.coarse_s : 0) << ",\"spin_s\":" << spin_s
       << ",\"avg_s\":" << all.averaged_s << ",\"first_half_s\":" << half.averaged_s
       << ",\"samples\":" << all.samples << ",\"dt\":" << s.control.dt_s
       << ",\"c\":" << sqrt (s.control.c2) << ",\"wall_coarse_s\":" << spin.wall_s
       << ",\"wall_s\":" << end_s - start_s << ",\"wall_fine_s\":" << end_s - fine_s
       << ",\"gcells_s\":" << steps * cells / (end_s - fine_s) * 1e-9
       << ",\"kT\":" << s.scalars.heat << ",\"kW\":" << s.scalars.vapour
       << ",\"kA\":" << s.scalars.age;
  return text.str ();
}

static std::string
run_case (const Case &c, double deadline_s)
{
  const double start_s = now_s (), stop_s = std::min (deadline_s, start_s + c.budget_s);
  const Spin spin = spin_coarse (c, stop_s);
  Simulation s (c, c.cell_m);
  const double fine_s = now_s ();
  Means half, all;
  double spin_s, average_from_s;
  bool good;

  s.start ();
  if (spin.ran)
    s.start_from (spin.state);
  good = s.run_until (c.spin_up_s, fine_s + spin_share * (stop_s - fine_s));
  spin_s = s.control.t_s;

  average_from_s = now_s ();
  if (c.average_s > 0)
    {
      s.begin_average ();
      s.run_until (spin_s + c.average_s / 2, average_from_s + 0.5 * (stop_s - average_from_s));
      half = s.means ();
      /* When time was short, the second half is as long as the first. */
      good &= s.run_until (spin_s + std::min (c.average_s, 2 * half.averaged_s), stop_s);
    }
  all = s.means ();

  return "{" + json_run (s, spin, all, half, s.control.bad || !good, spin_s, start_s, fine_s)
         + (c.average_s > 0 && half.samples > 0 ? json_means (s, all, half) : json_energy (s))
         + "}\n";
}

/* Takes jobs until none is left or too little time. */
static void
work (const std::vector<Case> &cases, std::atomic<int> &next, std::mutex &lock, FILE *out,
      double start_s, double deadline_s)
{
  for (;;)
    {
      const int i = next++;

      if (i >= (int) cases.size ())
        return;

      const Case &c = cases[i];

      if (deadline_s - now_s () < std::min (c.estimate_s, c.budget_s) * 0.6)
        {
          const std::lock_guard<std::mutex> guard (lock);

          printf ("%-28s not started\n", c.name.c_str ());
          continue;
        }

      const std::string result = run_case (c, deadline_s);
      const std::lock_guard<std::mutex> guard (lock);

      fputs (result.c_str (), out);
      fflush (out);
      printf ("%7.1f s %s\n", now_s () - start_s, c.name.c_str ());
      fflush (stdout);
    }
}

int
main (int argc, char **argv)
{
  const double start_s = now_s ();
  const int side_by_side = argc > 3 ? atoi (argv[3]) : 1;
  const double deadline_s = start_s + (argc > 4 ? atof (argv[4]) : 1e9);
  std::vector<Case> cases;
  std::vector<std::thread> threads;
  std::atomic<int> next (0);
  std::mutex lock;
  FILE *out;

  if (argc < 3)
    {
      fprintf (stderr, "usage: les JOBS OUT [side by side] [seconds] [device]\n");
      return 2;
    }
  if (!read_jobs (argv[1], cases))
    return 2;
  out = fopen (argv[2], "w");
  if (!out)
    {
      perror (argv[2]);
      return 2;
    }
  for (int t = 0; t < side_by_side; t++)
    threads.emplace_back ([&] {
#ifdef __CUDACC__
      CUDA (cudaSetDevice (argc > 5 ? atoi (argv[5]) : 0));
#endif
      work (cases, next, lock, out, start_s, deadline_s);
    });
  for (std::thread &t : threads)
    t.join ();
  fclose (out);
  return 0;
}
