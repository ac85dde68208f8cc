// Writes the demo and the small scenes: make-demo FOLDER, where FOLDER is `scenes` in the source
// tree. The files are committed; a test makes them anew and compares.

#include <filesystem>
#include <functional>
#include <iostream>

#include <Message.hxx>
#include <Message_Messenger.hxx>

#include "bay.h"
#include "small_scenes.h"

int main(int count, char** arguments) {
  if (count != 2) {
    std::cerr << "usage: make-demo FOLDER\n";
    return 2;
  }
  Message::DefaultMessenger()->ChangePrinters().Clear();  // the kernel's own chatter
  using standpoint::scenes::make_demo;
  using standpoint::scenes::make_dowel_scene;
  using standpoint::scenes::make_wire_scene;
  const std::pair<const char*, std::function<std::string(const std::filesystem::path&)>> scenes[] =
      {{"demo", make_demo}, {"wire", make_wire_scene}, {"dowel", make_dowel_scene}};
  for (const auto& [name, make] : scenes) {
    const std::filesystem::path folder = std::filesystem::path(arguments[1]) / name;
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    if (const std::string failed = make(folder); !failed.empty()) {
      std::cerr << name << ": " << failed << '\n';
      return 3;
    }
  }
  return 0;
}
