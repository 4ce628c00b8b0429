// Compiled by mutants.py into its programs: which change is on, and which ones the program came by.
#include <cstdlib>
#include <fstream>

int mutant_on = 0;
unsigned char mutant_met[MOST_MUTANTS] = {};

namespace {

// Before any constant of the program is worked out.
__attribute__((constructor(101))) void switch_on() {
  const char* number = std::getenv("MUTANT");
  if (number != nullptr) mutant_on = std::atoi(number);
}

// Tells at the end.
struct Met {
  Met() = default;
  Met(const Met&) = delete;
  Met& operator=(const Met&) = delete;
  ~Met() {
    const char* path = std::getenv("MUTANTS_MET");
    if (path == nullptr) return;
    std::ofstream out(path, std::ios::app);
    for (int k = 1; k < MOST_MUTANTS; ++k) {
      if (mutant_met[k] != 0) out << k << '\n';
    }
  }
} met;

}  // namespace
