# materials/embed_data.cmake — writes a source file that holds the text of every material data file.
#   cmake -DFOLDER=<this folder> -DOUTPUT=<file.cpp> -P embed_data.cmake
# SPDX-License-Identifier: GPL-3.0-or-later
set(code "// Written by materials/embed_data.cmake; edit the .toml files instead.\n")
string(APPEND code "#include \"materials/embedded_data.h\"\n\nnamespace lodegear {\n\n")
string(APPEND code "static constexpr EmbeddedFile files[] = {\n")
foreach(kind curves magnets others steels)
  file(GLOB paths RELATIVE ${FOLDER} ${FOLDER}/${kind}/*.toml)
  list(SORT paths)
  foreach(path IN LISTS paths)
    get_filename_component(stem "${path}" NAME)
    string(REGEX REPLACE "\\.toml$" "" stem "${stem}")
    file(READ "${FOLDER}/${path}" text)
    string(APPEND code "{\"${kind}\", \"${stem}\", R\"~~(${text})~~\"},\n")
  endforeach()
endforeach()
string(APPEND code "};\n\nstd::span<const EmbeddedFile> embedded_files() { return files; }\n\n")
string(APPEND code "}  // namespace lodegear\n")
file(WRITE "${OUTPUT}" "${code}")
