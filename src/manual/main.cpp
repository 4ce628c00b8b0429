// Writes the manual pages, the completions and the JSON Schemas into a folder, when the project is built:
//   mendworth_manual FOLDER
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <string>

#include "cli/cli_table.hpp"
#include "cli/commands.hpp"
#include "manual/manual.hpp"

namespace {

void write(const std::filesystem::path& path, const std::string& text) {
  std::ofstream file(path, std::ios::binary);
  file << text;
  file.close();
  if (!file) throw std::runtime_error(path.string() + " cannot be written");
}

}  // namespace

int main(int argc, char** argv) {
  using namespace mendworth::manual;
  if (argc != 2) {
    std::cerr << "usage: mendworth_manual FOLDER\n";
    return 2;
  }
  try {
    const std::filesystem::path folder = argv[1];
    std::filesystem::create_directories(folder);
    mendworth::cli::CommandLine line;
    write(folder / "mendworth.1", man_page(line.app, line.app));
    for (CLI::App* command : commands_of(line.app))
      write(folder / ("mendworth-" + command->get_name() + ".1"), man_page(line.app, *command));
    for (const std::string kind : {"case", "shop"})
      write(folder / ("mendworth-" + kind + ".5"), file_page(kind));
    write(folder / "mendworth.bash", bash_completion(line.app));
    write(folder / "_mendworth", zsh_completion(line.app));
    write(folder / "mendworth.fish", fish_completion(line.app));
    for (const auto& [name, schema] : mendworth::cli::schemas())
      write(folder / (name + ".schema.json"), schema());
    return 0;
  } catch (const std::exception& error) {
    std::cerr << "mendworth_manual: " << error.what() << '\n';
    return 1;
  }
}
