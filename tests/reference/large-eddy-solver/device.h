/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Memory and launches, on a GPU or on the processor's threads. */

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <vector>

#ifdef __CUDACC__
#include <cuda_runtime.h>

inline void
check_cuda (cudaError_t error, const char *what)
{
  if (error != cudaSuccess)
    {
      fprintf (stderr, "les: %s: %s\n", what, cudaGetErrorString (error));
      exit (3);
    }
}
#define CUDA(call) check_cuda (call, #call)

/* A kernel over the cells of its grid's list. */
template <class Kernel> __global__ void __launch_bounds__ (256) run_over_list (Kernel kernel)
{
  const int i = blockIdx.x * 256 + threadIdx.x;

  if (i < kernel.g.n_listed)
    kernel (kernel.g.list[i]);
}
#endif

/* One stream of work and the memory it uses, freed with it. */
class Device
{
public:
  Device ()
  {
#ifdef __CUDACC__
    CUDA (cudaStreamCreateWithFlags (&stream, cudaStreamNonBlocking));
#endif
  }

  ~Device ()
  {
#ifdef __CUDACC__
    for (void *block : blocks)
      cudaFree (block);
    cudaStreamDestroy (stream);
#else
    for (void *block : blocks)
      free (block);
#endif
  }

  Device (const Device &) = delete;
  Device &operator= (const Device &) = delete;

  /* n items of nothing but zeros. */
  template <class T>
  T *
  make (size_t n)
  {
    void *block = nullptr;

#ifdef __CUDACC__
    CUDA (cudaMalloc (&block, n * sizeof (T)));
    CUDA (cudaMemsetAsync (block, 0, n * sizeof (T), stream));
#else
    block = calloc (n, sizeof (T));
#endif
    blocks.push_back (block);
    return (T *) block;
  }

  template <class T>
  T *
  make (const std::vector<T> &values)
  {
    T *block = make<T> (values.size ());

    put (block, values.data (), values.size ());
    return block;
  }

  template <class T>
  void
  put (T *there, const T *here, size_t n)
  {
#ifdef __CUDACC__
    CUDA (cudaMemcpyAsync (there, here, n * sizeof (T), cudaMemcpyHostToDevice, stream));
    CUDA (cudaStreamSynchronize (stream));
#else
    memcpy (there, here, n * sizeof (T));
#endif
  }

  template <class T>
  void
  get (T *here, const T *there, size_t n)
  {
#ifdef __CUDACC__
    CUDA (cudaMemcpyAsync (here, there, n * sizeof (T), cudaMemcpyDeviceToHost, stream));
    CUDA (cudaStreamSynchronize (stream));
#else
    memcpy (here, there, n * sizeof (T));
#endif
  }

  template <class T>
  void
  clear (T *there, size_t n)
  {
#ifdef __CUDACC__
    CUDA (cudaMemsetAsync (there, 0, n * sizeof (T), stream));
#else
    memset (there, 0, n * sizeof (T));
#endif
  }

  template <class Kernel>
  void
  run (const Kernel &kernel)
  {
#ifdef __CUDACC__
    /* The formatter does not know CUDA's brackets. */
    /* clang-format off */
    run_over_list<Kernel><<<(kernel.g.n_listed + 255) / 256, 256, 0, stream>>> (kernel);
    /* clang-format on */
#else
#pragma omp parallel for schedule(static)
    for (int i = 0; i < kernel.g.n_listed; i++)
      kernel (kernel.g.list[i]);
#endif
  }

#ifdef __CUDACC__
  cudaStream_t stream;
#endif

private:
  std::vector<void *> blocks;
};
