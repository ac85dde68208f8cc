// What the program says, for the planner in WebAssembly to be held against:
//   planner_oracle bodies SCENE OUT   writes the scene's bodies as it reads them (dumped_bodies.h)
//   planner_oracle figures OUT        writes figures()
#include <fstream>
#include <iostream>
#include <string>

#include "io/read/bodies/body_reader.h"
#include "tests/page/dumped_bodies.h"
#include "tests/page/figures.h"

namespace standpoint {
namespace {

int write(const std::string& file, const std::string& bytes) {
  std::ofstream out(file, std::ios::binary);
  out << bytes;
  return out.flush() ? 0 : 1;
}

int write_bodies(const std::string& scene, const std::string& file) {
  std::string bytes;
  const auto read = read_scene_with(
      scene, [&](const BodyRequest& request) -> tl::expected<ReadBody, std::string> {
        auto body = read_body(request);
        if (body) test::put_body(bytes, request, *body);
        return body;
      });
  if (read) return write(file, bytes);
  for (const Fault& fault : read.error()) std::cerr << fault.where << ": " << fault.allowed << '\n';
  return 1;
}

}  // namespace
}  // namespace standpoint

int main(int argc, char** argv) {
  const std::vector<std::string> words(argv + 1, argv + argc);
  if (words.size() == 3 && words[0] == "bodies")
    return standpoint::write_bodies(words[1], words[2]);
  if (words.size() == 2 && words[0] == "figures")
    return standpoint::write(words[1], standpoint::test::figures());
  return 2;
}
