# tools/cmake/FindCairo.cmake — finds cairo with PDF and its fonts (Debian ships no config file), defines Cairo::Cairo.
# SPDX-License-Identifier: GPL-3.0-or-later
find_path(Cairo_INCLUDE_DIR cairo-pdf.h PATH_SUFFIXES cairo)
find_library(Cairo_LIBRARY cairo)
find_path(Cairo_FONT_INCLUDE_DIR fontconfig/fontconfig.h)
find_library(Cairo_FONT_LIBRARY fontconfig)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Cairo REQUIRED_VARS Cairo_LIBRARY Cairo_INCLUDE_DIR
                                  Cairo_FONT_LIBRARY Cairo_FONT_INCLUDE_DIR)
if(Cairo_FOUND AND NOT TARGET Cairo::Cairo)
  add_library(Cairo::Cairo UNKNOWN IMPORTED)
  set_target_properties(Cairo::Cairo PROPERTIES IMPORTED_LOCATION "${Cairo_LIBRARY}"
                        INTERFACE_LINK_LIBRARIES "${Cairo_FONT_LIBRARY}"
                        INTERFACE_INCLUDE_DIRECTORIES "${Cairo_INCLUDE_DIR};${Cairo_FONT_INCLUDE_DIR}")
endif()
mark_as_advanced(Cairo_INCLUDE_DIR Cairo_LIBRARY Cairo_FONT_INCLUDE_DIR Cairo_FONT_LIBRARY)
