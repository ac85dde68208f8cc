// Reads the scene file that is named: one-scene FILE.

#include <cstdio>

#include "standpoint/read_scene.h"

int main(int count, char** arguments) {
  if (count != 2) return 2;
  const auto read = standpoint::read_scene(arguments[1]);
  if (!read) {
    for (const standpoint::Fault& fault : read.error()) std::puts(fault.allowed.c_str());
    return 1;
  }
  return read->scene.features.empty() ? 1 : 0;
}
